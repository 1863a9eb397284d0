#include <algorithm>
#include <cmath>

#include "armwright/motion/drive_torques.hpp"
#include "armwright/motion/path_limits.hpp"

namespace armwright {

namespace {

struct Most {
  NamedLimit most;
  void take(double value, double limit, MotionLimit name, std::int32_t axis) {
    if (!(limit < unlimited)) return;
    const double use = limit > 0 ? std::fabs(value) / limit : value == 0 ? 0 : unlimited;
    if (use > most.use || most.limit == MotionLimit::none) most = {name, axis, use};
  }
};

// What a drive gives for a torque, each part against its limit.
void take_drive(const AxisDrive& drive, double torque, double speed, double acceleration, double direction, std::int32_t axis, Most& most) {
  most.take(torque, drive.stated_peak, MotionLimit::motor_torque, axis);
  if (!drive.present) return;
  const DriveState<double> state = drive_state(drive, torque, speed, acceleration, direction);
  for (std::size_t s = 0; s < drive.stage_count; ++s) {
    most.take(state.stage_torque[s], drive.stage[s].repeated_peak_torque, MotionLimit::stage_torque, axis);
    most.take(state.stage_speed[s], drive.stage[s].max_input_speed, MotionLimit::stage_speed, axis);
  }
  most.take(state.motor_speed, drive.peak.max_speed(), MotionLimit::motor_speed, axis);
  // At the very end of the curve rounding must not make the torque nothing.
  const double within = std::min(std::fabs(state.motor_speed), drive.peak.max_speed());
  most.take(state.motor_torque, curve_torque(drive.peak, within), MotionLimit::motor_torque, axis);
}

}  // namespace

NamedLimit standing(const PathLimits& limits, std::size_t row) {
  Most most;
  if (limits.gravity.empty()) return most.most;
  for (std::size_t k = 0; k < limits.joint_count; ++k)
    take_drive(limits.drives[k], limits.gravity[row * limits.joint_count + k], 0, 0, 0, static_cast<std::int32_t>(k), most);
  return most.most;
}

NamedLimit most_used(const PathLimits& limits, std::size_t row, double x, double u) {
  Most most;
  const std::size_t n = limits.joint_count;
  const double rate = std::sqrt(x);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t at = row * n + i;
    const auto axis = static_cast<std::int32_t>(i);
    most.take(limits.first[at] * rate, limits.speed[at], MotionLimit::joint_speed, axis);
    most.take(limits.first[at] * u + limits.second[at] * x, limits.acceleration[at], MotionLimit::joint_acceleration, axis);
    if (limits.inertia.empty()) continue;
    const double way = limits.axis_way(row)[i], bend = limits.axis_bend(row)[i];
    take_drive(limits.drives[i], limits.inertia[at] * u + limits.coriolis[at] * x + limits.gravity[at], way * rate, way * u + bend * x,
               way, axis, most);
  }
  if (limits.tool.empty()) return most.most;
  const PathLimits::ToolRow& t = limits.tool[row];
  const auto size = [&](double ww, double wb, double bb) { return std::sqrt(std::max(0.0, ww * u * u + 2 * wb * u * x + bb * x * x)); };
  most.take(std::sqrt(t.way2) * rate, t.limits.speed, MotionLimit::tool_speed, -1);
  most.take(size(t.way2, t.way_bend, t.bend2), t.limits.acceleration, MotionLimit::tool_acceleration, -1);
  most.take(std::sqrt(t.turn2) * rate, t.limits.turn_speed, MotionLimit::tool_turn_speed, -1);
  most.take(size(t.turn2, t.turn_bend, t.turn_bend2), t.limits.turn_acceleration, MotionLimit::tool_turn_acceleration, -1);
  return most.most;
}

}  // namespace armwright
