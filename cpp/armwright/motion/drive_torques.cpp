#include "armwright/motion/drive_torques.hpp"

#include "armwright/dynamics/newton_euler.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/support/in_fours.hpp"

namespace armwright {

namespace {

ARMWRIGHT_INLINE void load_four(const double* from, std::size_t n, Lanes* to) {
  for (std::size_t i = 0; i < n; ++i) to[i] = load_joint<Lanes>(from, n, i);
}

ARMWRIGHT_INLINE void through_drives(const Model& model, const AxisDrive* drives, const Lanes* torque, const Lanes* speed, const Lanes* acceleration, double* to) {
  const std::size_t n = model.joint_count;
  Lanes axis[max_joints], velocity[max_joints], change[max_joints];
  axis_torques(model, torque, axis);
  axis_motion(model, speed, velocity);
  axis_motion(model, acceleration, change);
  for (std::size_t k = 0; k < n; ++k) {
    const Lanes motor = motor_torque(drives[k], axis[k], velocity[k], change[k], velocity[k]);
    for (std::size_t r = 0; r < Lanes::width; ++r) to[r * n + k] = motor[r];
  }
}

}  // namespace

ARMWRIGHT_BATCH void motor_torques(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                                   std::span<const double> acceleration, std::span<double> out) {
  const std::size_t n = model.joint_count;
  const std::vector<AxisDrive> drives = axis_drives(model);
  const Inertia last = model.link[n - 1] + load;
  const Vec3 up = transpose_times(model.base.rotation, -model.gravity);
  in_fours<max_joints, 3>(rows_of(model, q), {q.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), n,
                          [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Lanes angle[max_joints], velocity[max_joints], change[max_joints], torque[max_joints];
    load_four(in[0], n, angle);
    load_four(in[1], n, velocity);
    load_four(in[2], n, change);
    const JointTurns<Lanes> turns = joint_turns(model, angle);
    newton_euler(model, last, turns, angle, velocity, change, spread<Lanes>(up), 0, torque);
    if (!model.springs.empty()) {
      Pose3<Lanes> frames[max_joints];
      joint_frames(model, in[0], frames);
      subtract_springs(model, frames, torque);
    }
    through_drives(model, drives.data(), torque, velocity, change, to);
  });
}

ARMWRIGHT_BATCH void motor_torques_of(const Model& model, std::span<const double> joint_torque, std::span<const double> speed,
                                      std::span<const double> acceleration, std::span<double> out) {
  const std::size_t n = model.joint_count;
  const std::vector<AxisDrive> drives = axis_drives(model);
  in_fours<max_joints, 3>(rows_of(model, speed), {joint_torque.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), n,
                          [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Lanes torque[max_joints], velocity[max_joints], change[max_joints];
    load_four(in[0], n, torque);
    load_four(in[1], n, velocity);
    load_four(in[2], n, change);
    through_drives(model, drives.data(), torque, velocity, change, to);
  });
}

}  // namespace armwright
