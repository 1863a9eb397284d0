#include "armwright/motion/stop_axis.hpp"

#include <algorithm>

namespace armwright {

std::vector<StopAxis> stop_axes(const Model& model, std::span<const AxisDrive> drives) {
  std::vector<StopAxis> all(drives.size());
  for (std::size_t k = 0; k < all.size(); ++k) {
    const AxisDrive& drive = drives[k];
    StopAxis& axis = all[k];
    axis.stated_peak = drive.stated_peak;
    axis.present = drive.present;
    if (!drive.present) continue;
    axis.stage_count = drive.stage_count;
    for (std::size_t s = 0; s < drive.stage_count; ++s) {
      const AxisStage& stage = drive.stage[s];
      const double back = std::max(stage.gains.back * stage.ratio, least_back_efficiency);
      axis.stage[s] = {stage.ratio, stage.inertia, 1 / stage.gains.driving, stage.ratio / back};
    }
    axis.ratio = drive.ratio;
    axis.rotor_inertia = drive.rotor_inertia;
    axis.motor_friction = drive.motor_friction;
    axis.joint_friction = drive.joint_friction;
    axis.peak = drive.peak;
    const Drive& described = model.drive[k];
    if (!described.has_brake) continue;
    (described.brake.side == BrakeSide::motor ? axis.motor_brake : axis.joint_brake) = described.brake.torque;
    axis.delay = described.brake.delay;
  }
  return all;
}

}  // namespace armwright
