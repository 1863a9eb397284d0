#include "armwright/dynamics/forward_dynamics.hpp"

#include <array>

#include "armwright/dynamics/factor.hpp"
#include "armwright/dynamics/reflected.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/dynamics/world_bodies.hpp"

namespace armwright {

namespace {

ARMWRIGHT_INLINE Lanes gathered(const double* const* rows, std::size_t i) {
  Lanes value;
  for (std::size_t k = 0; k < Lanes::width; ++k) value.set(k, rows[k][i]);
  return value;
}

ARMWRIGHT_INLINE void four_rows(const Model& model, const Inertia& last, const ReflectedInertia* reflected, const double* const* q,
                                const double* const* speed, const double* const* torque, Lanes* acceleration, Lanes& loose) {
  const std::size_t n = model.joint_count;
  Pose3<Lanes> frames[max_joints];
  Lanes angle[max_joints];
  for (std::size_t i = 0; i < n; ++i) angle[i] = gathered(q, i);
  joint_frames_at(model, angle, frames);
  WorldBodies<Lanes> bodies;
  world_bodies(model, last, frames, bodies);
  Lanes velocity[max_joints], bias[max_joints], M[max_joints * max_joints], diagonal[max_joints];
  for (std::size_t i = 0; i < n; ++i) velocity[i] = gathered(speed, i);
  bias_of(model, bodies, velocity, bias);
  if (!model.springs.empty()) subtract_springs(model, frames, bias);
  mass_matrix_of(bodies, n, M);
  if (reflected)
    for (std::size_t i = 0; i < n * n; ++i) M[i] += Lanes(reflected->matrix[i]);
  for (std::size_t i = 0; i < n; ++i) {
    acceleration[i] = gathered(torque, i) - bias[i];
    diagonal[i] = M[i * n + i];
  }
  loose = Lanes(-1.0);
  solve_symmetric(n, M, acceleration, [&](std::size_t k, Lanes pivot) ARMWRIGHT_INLINE_LAMBDA {
    const Mask lost = !(pivot > Lanes(lost_pivot) * diagonal[k]);
    loose = select(lost, Lanes(static_cast<double>(k)), loose);
    return lost;
  });
}

}  // namespace

ARMWRIGHT_BATCH void forward_dynamics(const Model& model, const Inertia& load, bool drives, std::span<const double> q,
                                      std::span<const double> speed, std::span<const double> torque, std::span<double> out,
                                      std::span<std::int32_t> loose) {
  const std::size_t n = model.joint_count, count = rows_of(model, q);
  const Inertia last = model.link[n - 1] + load;
  const ReflectedInertia reflected = drives ? reflected_inertia(model) : ReflectedInertia{};
  for (std::size_t row = 0; row < count; row += Lanes::width) {
    const double *angles[Lanes::width], *speeds[Lanes::width], *torques[Lanes::width];
    for (std::size_t k = 0; k < Lanes::width; ++k) {
      const std::size_t at = (row + k < count ? row + k : count - 1) * n;
      angles[k] = q.data() + at, speeds[k] = speed.data() + at, torques[k] = torque.data() + at;
    }
    Lanes acceleration[max_joints], lost;
    four_rows(model, last, drives ? &reflected : nullptr, angles, speeds, torques, acceleration, lost);
    for (std::size_t k = 0; k < Lanes::width && row + k < count; ++k) {
      loose[row + k] = static_cast<std::int32_t>(lost[k]);
      for (std::size_t i = 0; i < n; ++i) out[(row + k) * n + i] = lost[k] < 0 ? acceleration[i][k] : 0;
    }
  }
}

}  // namespace armwright
