#include "armwright/dynamics/inverse_dynamics.hpp"

#include "armwright/dynamics/newton_euler.hpp"
#include "armwright/support/in_fours.hpp"

namespace armwright {

namespace {

ARMWRIGHT_INLINE void load_row(const double* from, std::size_t n, Lanes* to) {
  for (std::size_t i = 0; i < n; ++i) to[i] = load_joint<Lanes>(from, n, i);
}

}  // namespace

ARMWRIGHT_BATCH void inverse_dynamics(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                                      std::span<const double> acceleration, std::span<double> out) {
  const std::size_t n = model.joint_count;
  const Inertia last = model.link[n - 1] + load;
  const Vec3 up = transpose_times(model.base.rotation, -model.gravity);
  in_fours<max_joints, 3>(rows_of(model, q), {q.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), n,
                          [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Lanes angle[max_joints], velocity[max_joints], change[max_joints], torque[max_joints];
    load_row(in[0], n, angle);
    load_row(in[1], n, velocity);
    load_row(in[2], n, change);
    const JointTurns<Lanes> turns = joint_turns(model, angle);
    newton_euler(model, last, turns, angle, velocity, change, spread<Lanes>(up), 0, torque);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t k = 0; k < Lanes::width; ++k) to[k * n + i] = torque[i][k];
  });
}

ARMWRIGHT_BATCH void mass_matrices(const Model& model, const Inertia& load, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count;
  const Inertia last = model.link[n - 1] + load;
  in_fours<max_joints * max_joints, 1>(rows_of(model, q), {q.data()}, {n}, out.data(), n * n, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Lanes angle[max_joints], torque[max_joints], still[max_joints], unit[max_joints];
    load_row(in[0], n, angle);
    const JointTurns<Lanes> turns = joint_turns(model, angle);
    for (std::size_t i = 0; i < n; ++i) still[i] = unit[i] = Lanes(0.0);
    // Column j is the torque for a unit acceleration of joint j alone, at rest and without gravity.
    for (std::size_t j = 0; j < n; ++j) {
      unit[j] = Lanes(1.0);
      newton_euler(model, last, turns, angle, still, unit, {Lanes(0.0), Lanes(0.0), Lanes(0.0)}, j, torque);
      unit[j] = Lanes(0.0);
      for (std::size_t i = 0; i <= j; ++i)
        for (std::size_t k = 0; k < Lanes::width; ++k) to[k * n * n + i * n + j] = to[k * n * n + j * n + i] = torque[i][k];
    }
  });
}

}  // namespace armwright
