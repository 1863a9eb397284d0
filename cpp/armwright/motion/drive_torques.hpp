#pragma once

#include <span>

#include "armwright/elements/friction.hpp"
#include "armwright/motion/axis_drive.hpp"

namespace armwright {

/// Torques and speeds along one drive, from the axis in. Units of each shaft's own turning (rad/s, N m).
template <class T>
struct DriveState {
  T motor_torque, motor_speed;
  T stage_torque[max_stages];  ///< at each stage's output
  T stage_speed[max_stages];   ///< at each stage's input
};

/// What motor and stages give so that the axis (the output of the last stage) gives `torque` to what it moves, at `speed`
/// and `acceleration` of the axis. `ahead`, the direction: any number with the sign of the motion: the speed itself, or, where it is 0
/// for an instant only, that of the motion just before or after; 0 where it stands still: then there is no Coulomb
/// friction and the driving efficiency counts both ways, since the axis must be able to start.
/// Balance at each shaft (textbook): output torque through the stage by the direction of power, plus the inertia of what
/// turns with the stage's input, and at last the rotor's, plus friction. Rotors' gyroscopic moments are left out.
///
/// Structure, for whoever solves with it. Let s = sign of direction at the axis and s' = s · sign(ratio) at a shaft. At
/// fixed speed and direction every s' · torque along the drive is a convex, piecewise linear function of (torque, acceleration) together,
/// strictly rising in s · torque, with at most stage_count bends; at direction 0 it is linear. So it is convex along any
/// line torque = t0 + t1 x, acceleration = a0 + a1 x, and its inverse in `torque` is given by axis_torque_interval().
template <class T>
ARMWRIGHT_INLINE DriveState<T> drive_state(const AxisDrive& drive, T torque, T speed, T acceleration, T ahead) {
  DriveState<T> state;
  const FrictionSpec& joint = drive.joint_friction;
  T t = torque + friction_torque(joint.coulomb_forward, joint.coulomb_backward, joint.viscous, speed, ahead);
  T direction = ahead;
  for (std::size_t s = drive.stage_count; s-- > 0;) {
    const AxisStage& stage = drive.stage[s];
    state.stage_torque[s] = t;
    t = stage_input_torque(stage.gains, t, direction);
    speed *= T(stage.ratio);
    acceleration *= T(stage.ratio);
    direction *= T(stage.ratio);
    state.stage_speed[s] = speed;
    t += T(stage.inertia) * acceleration;
  }
  const FrictionSpec& motor = drive.motor_friction;
  // Told anew: where GCC sees one direction that may or may not have gone through stages, it compares lane by lane.
  const T at_motor = ahead * T(drive.ratio);
  state.motor_torque = t + T(drive.rotor_inertia) * acceleration + friction_torque(motor.coulomb_forward, motor.coulomb_backward, motor.viscous, speed, at_motor);
  state.motor_speed = speed;
  return state;
}

/// The motor's torque alone, N m.
template <class T>
ARMWRIGHT_INLINE T motor_torque(const AxisDrive& drive, T torque, T speed, T acceleration, T direction) {
  return drive_state(drive, torque, speed, acceleration, direction).motor_torque;
}

/// Which limits hold: the motor's continuous or peak curve; the stages' rated, repeated or momentary torque.
enum class DriveLimit : std::int8_t { continuous, repeated_peak, momentary_peak };

/// The axis torques that a drive can give, and the part that sets each end (a stage's index, part_motor, part_stated, part_none).
struct TorqueInterval {
  double least, greatest;
  std::int8_t least_part, greatest_part;
  bool empty() const { return !(least <= greatest); }
};

/// The inverse of drive_state(): every axis torque at which the motor stays within its curve at that speed, every stage within
/// its torque and the axis within its stated torque; closed form, from the motor out. Speeds are not judged here (see
/// greatest_axis_speed), but beyond the end of its curve the motor gives nothing.
inline TorqueInterval axis_torque_interval(const AxisDrive& drive, double speed, double acceleration, double direction, DriveLimit limit) {
  const double motor_speed = speed * drive.ratio, reach = curve_torque(limit == DriveLimit::continuous ? drive.continuous : drive.peak, motor_speed);
  const FrictionSpec &motor = drive.motor_friction, &joint = drive.joint_friction;
  double turns = drive.ratio;  // of the shaft at hand for one of the axis, signed
  const double lost = friction_torque(motor.coulomb_forward, motor.coulomb_backward, motor.viscous, motor_speed, direction * turns) +
                      drive.rotor_inertia * acceleration * turns;
  const std::int8_t first = reach == unlimited ? part_none : part_motor;
  TorqueInterval at{-reach - lost, reach - lost, first, first};
  const auto within = [&at](double most, std::int8_t part) {
    if (most < at.greatest) at.greatest = most, at.greatest_part = part;
    if (-most > at.least) at.least = -most, at.least_part = part;
  };
  for (std::size_t s = 0; s < drive.stage_count; ++s) {
    const AxisStage& stage = drive.stage[s];
    const double inertia = stage.inertia * acceleration * turns;
    turns /= stage.ratio;
    const double a = stage_output_torque(stage.gains, at.least - inertia, direction * turns);
    const double b = stage_output_torque(stage.gains, at.greatest - inertia, direction * turns);
    at = stage.ratio > 0 ? TorqueInterval{a, b, at.least_part, at.greatest_part} : TorqueInterval{b, a, at.greatest_part, at.least_part};
    within(limit == DriveLimit::continuous ? stage.rated_torque : limit == DriveLimit::repeated_peak ? stage.repeated_peak_torque : stage.momentary_peak_torque,
           static_cast<std::int8_t>(s));
  }
  const double friction = friction_torque(joint.coulomb_forward, joint.coulomb_backward, joint.viscous, speed, direction);
  at.least -= friction;
  at.greatest -= friction;
  within(limit == DriveLimit::continuous ? drive.stated_continuous : drive.stated_peak, part_stated);
  return at;
}

/// Joint quantities into those of the axes and back (see Coupling), one row: tau_axis = Cᵀ tau; axis = C⁻¹ q, and so
/// speeds and accelerations. `out` may not be the input.
template <class T>
ARMWRIGHT_INLINE void axis_torques(const Model& model, const T* joint, T* out) {
  const std::size_t n = model.joint_count;
  for (std::size_t k = 0; k < n; ++k) {
    out[k] = joint[k];
    if (model.coupling.none()) continue;
    out[k] = T(0.0);
    for (std::size_t i = 0; i < n; ++i) out[k] += T(model.coupling.matrix[i * n + k]) * joint[i];
  }
}
template <class T>
ARMWRIGHT_INLINE void axis_motion(const Model& model, const T* joint, T* out) {
  const std::size_t n = model.joint_count;
  for (std::size_t k = 0; k < n; ++k) {
    out[k] = joint[k];
    if (model.coupling.none()) continue;
    out[k] = T(0.0);
    for (std::size_t i = 0; i < n; ++i) out[k] += T(model.coupling.inverse[k * n + i]) * joint[i];
  }
}

/// Motor torques (N m; N where a motor pushes) for a batch of motions: the rigid body with `load` (last joint frame), coupling, stages,
/// friction and rotors in one pass; direction of motion = sign of the speed. `q`, `speed`, `acceleration`, `out`: rows × joint_count;
/// an axis without a drive gives its axis torque.
void motor_torques(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                   std::span<const double> acceleration, std::span<double> out);

/// The same from joint torques that are known already.
void motor_torques_of(const Model& model, std::span<const double> joint_torque, std::span<const double> speed,
                      std::span<const double> acceleration, std::span<double> out);

}  // namespace armwright
