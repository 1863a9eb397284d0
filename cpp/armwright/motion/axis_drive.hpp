#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "armwright/elements/stage.hpp"
#include "armwright/model/model.hpp"

namespace armwright {

/// What of a stage counts in a torque balance, ready for use.
struct AxisStage {
  double ratio = 1, inertia = 0;
  StageGains gains{1, 1};
  double rated_torque = unlimited, repeated_peak_torque = unlimited, momentary_peak_torque = unlimited;  ///< at the output
  double max_input_speed = unlimited;
};

/// One axis' drive as the torque balance takes it: numbers only, one an axis even where no drive is described (then it
/// passes torque and speed on unchanged and only the stated torques limit it).
struct AxisDrive {
  bool present = false;
  std::size_t stage_count = 0;
  std::array<AxisStage, max_stages> stage{};  ///< 0 is next to the motor
  double ratio = 1;                           ///< motor turns a turn of the axis, signed
  double rotor_inertia = 0;
  FrictionSpec motor_friction, joint_friction;
  TorqueSpeedCurve continuous, peak;          ///< empty (count 0) without a drive
  double stated_continuous = unlimited, stated_peak = unlimited;  ///< on the axis' torque itself, N m
};

/// One for every axis of the model.
std::vector<AxisDrive> axis_drives(const Model& model);

/// Torque of a curve at a motor speed of either sign, N m; infinite for a curve that is not there, 0 beyond its end.
double curve_torque(const TorqueSpeedCurve& curve, double motor_speed);

/// The part of a drive that a limit belongs to: a stage's index, or one of these.
inline constexpr std::int8_t part_motor = -1, part_stated = -2, part_none = -3;

/// The greatest speed of the axis (rad/s, m/s) that its motor and stages may turn at, and which of them says so.
struct SpeedLimit {
  double speed;
  std::int8_t part;
};
SpeedLimit greatest_axis_speed(const AxisDrive& drive);

}  // namespace armwright
