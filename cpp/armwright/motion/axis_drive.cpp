#include "armwright/motion/axis_drive.hpp"

#include <cmath>

#include "armwright/elements/torque_speed_curve.hpp"

namespace armwright {

std::vector<AxisDrive> axis_drives(const Model& model) {
  std::vector<AxisDrive> all(model.joint_count);
  for (std::size_t k = 0; k < all.size(); ++k) {
    AxisDrive& axis = all[k];
    axis.stated_continuous = model.stated_continuous[k];
    axis.stated_peak = model.stated_peak[k];
    if (model.drive.empty() || !model.drive[k].present) continue;
    const Drive& drive = model.drive[k];
    axis.present = true;
    axis.stage_count = drive.stage_count;
    for (std::size_t s = 0; s < drive.stage_count; ++s) {
      const StageSpec& stage = drive.stage[s];
      axis.stage[s] = {stage.ratio, stage.inertia, stage_gains(stage.ratio, stage.efficiency, stage.efficiency_back),
                       stage.rated_torque, stage.repeated_peak_torque, stage.momentary_peak_torque, stage.max_input_speed};
    }
    axis.ratio = drive.ratio;
    axis.rotor_inertia = drive.rotor_inertia;
    axis.motor_friction = drive.motor_friction;
    axis.joint_friction = drive.joint_friction;
    axis.continuous = drive.continuous;
    axis.peak = drive.peak;
  }
  return all;
}

double curve_torque(const TorqueSpeedCurve& curve, double motor_speed) {
  if (curve.count == 0) return unlimited;
  return curve_value({curve.speed.data(), curve.count}, {curve.torque.data(), curve.count}, std::fabs(motor_speed));
}

SpeedLimit greatest_axis_speed(const AxisDrive& drive) {
  SpeedLimit least{unlimited, part_none};
  double turns = 1;  // of the stage's input for one of the axis
  for (std::size_t s = drive.stage_count; s-- > 0;) {
    turns *= std::fabs(drive.stage[s].ratio);
    if (drive.stage[s].max_input_speed / turns < least.speed) least = {drive.stage[s].max_input_speed / turns, static_cast<std::int8_t>(s)};
  }
  if (drive.peak.count > 0 && drive.peak.max_speed() / turns < least.speed) least = {drive.peak.max_speed() / turns, part_motor};
  return least;
}

}  // namespace armwright
