#include "armwright/dynamics/inverse_dynamics.hpp"

#include "armwright/dynamics/newton_euler.hpp"
#include "armwright/dynamics/reflected.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/dynamics/world_bodies.hpp"
#include "armwright/support/in_fours.hpp"

namespace armwright {

namespace {

ARMWRIGHT_INLINE void load_row(const double* from, std::size_t n, Lanes* to) {
  for (std::size_t i = 0; i < n; ++i) to[i] = load_joint<Lanes>(from, n, i);
}

ARMWRIGHT_INLINE void add_reflected(const ReflectedInertia& reflected, std::size_t n, const Lanes* acceleration, Lanes* torque) {
  for (std::size_t i = 0; i < n; ++i) {
    if (reflected.diagonal) {
      torque[i] += Lanes(reflected.matrix[i * n + i]) * acceleration[i];
    } else {
      for (std::size_t j = 0; j < n; ++j) torque[i] += Lanes(reflected.matrix[i * n + j]) * acceleration[j];
    }
  }
}

}  // namespace

ARMWRIGHT_BATCH void inverse_dynamics(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                                      std::span<const double> acceleration, std::span<double> out, bool drives) {
  const std::size_t n = model.joint_count;
  const Inertia last = model.link[n - 1] + load;
  const Vec3 up = transpose_times(model.base.rotation, -model.gravity);
  const ReflectedInertia reflected = drives ? reflected_inertia(model) : ReflectedInertia{};
  in_fours<max_joints, 3>(rows_of(model, q), {q.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), n,
                          [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Lanes angle[max_joints], velocity[max_joints], change[max_joints], torque[max_joints];
    load_row(in[0], n, angle);
    load_row(in[1], n, velocity);
    load_row(in[2], n, change);
    const JointTurns<Lanes> turns = joint_turns(model, angle);
    newton_euler(model, last, turns, angle, velocity, change, spread<Lanes>(up), 0, torque);
    if (!model.springs.empty()) {
      Pose3<Lanes> frames[max_joints];
      joint_frames(model, in[0], frames);
      subtract_springs(model, frames, torque);
    }
    if (drives) add_reflected(reflected, n, change, torque);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t k = 0; k < Lanes::width; ++k) to[k * n + i] = torque[i][k];
  });
}

ARMWRIGHT_BATCH void mass_matrices(const Model& model, const Inertia& load, std::span<const double> q, std::span<double> out, bool drives) {
  const std::size_t n = model.joint_count;
  const Inertia last = model.link[n - 1] + load;
  const ReflectedInertia reflected = drives ? reflected_inertia(model) : ReflectedInertia{};
  in_fours<max_joints * max_joints, 1>(rows_of(model, q), {q.data()}, {n}, out.data(), n * n, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Pose3<Lanes> frames[max_joints];
    joint_frames(model, in[0], frames);
    WorldBodies<Lanes> bodies;
    world_bodies(model, last, frames, bodies);
    Lanes M[max_joints * max_joints];
    mass_matrix_of(bodies, n, M);
    for (std::size_t i = 0; i < n * n; ++i) {
      const Lanes value = drives ? M[i] + Lanes(reflected.matrix[i]) : M[i];
      for (std::size_t k = 0; k < Lanes::width; ++k) to[k * n * n + i] = value[k];
    }
  });
}

}  // namespace armwright
