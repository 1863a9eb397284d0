#include "armwright/dynamics/inverse_dynamics.hpp"

#include "armwright/dynamics/motion_rows.hpp"
#include "armwright/dynamics/reflected.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/dynamics/world_bodies.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

template <class T>
ARMWRIGHT_INLINE void add_reflected(const ReflectedInertia& reflected, std::size_t n, const T* acceleration, T* torque) {
  for (std::size_t i = 0; i < n; ++i) {
    if (reflected.diagonal) {
      torque[i] += T(reflected.matrix[i * n + i]) * acceleration[i];
    } else {
      for (std::size_t j = 0; j < n; ++j) torque[i] += T(reflected.matrix[i * n + j]) * acceleration[j];
    }
  }
}

}  // namespace

void inverse_dynamics(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                      std::span<const double> acceleration, std::span<double> out, bool drives) {
  const std::size_t n = model.joint_count;
  const ReflectedInertia reflected = drives ? reflected_inertia(model) : ReflectedInertia{};
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    each_motion<T, max_joints>(model, load, q, speed, acceleration, out, n, [&](MotionRows<T>& rows, double* to) ARMWRIGHT_INLINE_LAMBDA {
      if (!model.springs.empty()) subtract_springs_of(model, rows);
      if (drives) add_reflected(reflected, n, rows.acceleration, rows.torque);
      store_rows(rows.torque, n, to, n);
    });
  });
}

void mass_matrices(const Model& model, const Inertia& load, std::span<const double> q, std::span<double> out, bool drives) {
  const std::size_t n = model.joint_count;
  const Inertia last = model.link[n - 1] + load;
  const ReflectedInertia reflected = drives ? reflected_inertia(model) : ReflectedInertia{};
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_packs<T, max_joints * max_joints, 1>(rows_of(model, q), {q.data()}, {n}, out.data(), n * n, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
      Pose3<T> frames[max_joints];
      joint_frames(model, in[0], frames);
      WorldBodies<T> bodies;
      world_bodies(model, last, frames, bodies);
      T M[max_joints * max_joints];
      mass_matrix_of(bodies, n, M);
      for (std::size_t i = 0; i < n * n && drives; ++i) M[i] += T(reflected.matrix[i]);
      store_rows(M, n * n, to, n * n);
    });
  });
}

}  // namespace armwright
