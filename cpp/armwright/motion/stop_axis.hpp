#pragma once

#include <limits>
#include <span>

#include "armwright/elements/friction.hpp"
#include "armwright/motion/axis_drive.hpp"

namespace armwright {

/// A drive as a stop sees it: from the motor out, with its brake.
struct StopAxis {
  struct Stage {
    double ratio = 1, inertia = 0, out_driving = 1, out_back = 1;  ///< output torque by input torque, by direction of power
  };
  std::size_t stage_count = 0;
  std::array<Stage, max_stages> stage{};
  double ratio = 1, rotor_inertia = 0;
  FrictionSpec motor_friction, joint_friction;
  TorqueSpeedCurve peak;
  bool present = false;
  double stated_peak = unlimited;                  ///< on the axis, where no motor is described
  double motor_brake = 0, joint_brake = 0, delay = 0;  ///< N m; 0 and 0: no brake
};

/// A stage that cannot be driven back at all holds what comes: as good as rigid.
inline constexpr double least_back_efficiency = 1e-9;

/// `drives`: those of axis_drives(model).
std::vector<StopAxis> stop_axes(const Model& model, std::span<const AxisDrive> drives);

/// What a drive pushes its axis with, N m, and how that falls with the axis' acceleration.
struct AxisPush {
  double torque, slope;
};

/// What acts on a drive besides its inertia: at the motor's shaft and at the axis, N m, and the direction of motion (±1).
struct AxisPull {
  double motor = 0, joint = 0, direction = 1;
};

/// Push at an acceleration of the axis. Falls steadily with it, with a bend where power turns round in a stage.
inline AxisPush axis_push(const StopAxis& axis, const AxisPull& pull, double acceleration) {
  double turns = axis.ratio, t = pull.motor - axis.rotor_inertia * turns * acceleration, slope = -axis.rotor_inertia * turns;
  for (std::size_t s = 0; s < axis.stage_count; ++s) {
    const StopAxis::Stage& stage = axis.stage[s];
    t -= stage.inertia * turns * acceleration;
    slope -= stage.inertia * turns;
    const double gain = t * (pull.direction * turns) < 0 ? stage.out_back : stage.out_driving;
    turns /= stage.ratio;
    t *= gain;
    slope *= gain;
  }
  return {t + pull.joint, slope};
}

/// Friction and brakes that act against a direction of motion, with a motor torque `motor`.
inline AxisPull dragged(const StopAxis& axis, double motor, bool braked, double speed, double direction) {
  const double turning = axis.ratio > 0 ? direction : -direction;
  const FrictionSpec &at_motor = axis.motor_friction, &at_joint = axis.joint_friction;
  AxisPull pull;
  pull.direction = direction;
  pull.motor = motor - friction_torque(at_motor.coulomb_forward, at_motor.coulomb_backward, at_motor.viscous, speed * axis.ratio, turning);
  pull.joint = -friction_torque(at_joint.coulomb_forward, at_joint.coulomb_backward, at_joint.viscous, speed, direction);
  if (braked) {
    pull.motor -= axis.motor_brake * turning;
    pull.joint -= axis.joint_brake * direction;
  }
  return pull;
}

/// What an axis may do: accelerate beyond `at`, with the pull `above`; less, with the pull `below`; or just so, pushed
/// with anything between `least` and `greatest`. Without `kink` the two pulls are one.
struct AxisLaw {
  bool kink = false;
  double at = 0, least = 0, greatest = 0;
  AxisPull above, below;
};

/// The law with its bounds at the kink from the pulls.
inline AxisLaw law_between(const StopAxis& axis, const AxisPull& above, const AxisPull& below, double at) {
  return {true, at, axis_push(axis, above, at).torque, axis_push(axis, below, at).torque, above, below};
}

}  // namespace armwright
