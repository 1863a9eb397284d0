#pragma once

#include "armwright/model/compile.hpp"
#include "armwright/motion/drive_torques.hpp"
#include "cell_cases.hpp"

namespace armwright::testing {

inline DriveSpec random_drive(Draw& draw, std::size_t stages) {
  DriveSpec drive;
  const double rated = draw.uniform(0.5, 3);
  drive.motor.continuous = {{0, rated}, {200, rated}, {500, 0.6 * rated}};
  drive.motor.peak = {{0, 3 * rated}, {300, 2.8 * rated}, {600, rated}};
  drive.motor.rotor_inertia = draw.uniform(1e-5, 3e-4);
  drive.motor.winding_loss = draw.uniform(1, 20);
  drive.motor_friction = {draw.uniform(0, 0.1), draw.uniform(0, 0.1), draw.uniform(0, 1e-3)};
  drive.joint_friction = {draw.uniform(0, 3), draw.uniform(0, 3), draw.uniform(0, 1)};
  for (std::size_t s = 0; s < stages; ++s) {
    StageSpec stage;
    stage.name = "stage " + std::to_string(s);
    stage.ratio = draw.uniform(2, 12) * (draw.uniform(0, 1) < 0.4 ? -1 : 1);
    stage.efficiency = draw.uniform(0.6, 1);
    stage.efficiency_back = draw.uniform(0.4, 1);
    stage.inertia = draw.uniform(0, 2e-4);
    stage.rated_torque = draw.uniform(5, 100);
    stage.repeated_peak_torque = 2 * stage.rated_torque;
    stage.momentary_peak_torque = 4 * stage.rated_torque;
    drive.stages.push_back(stage);
  }
  return drive;
}

/// One axis, one drive, without a body: what axis_drives() makes of a drive.
inline AxisDrive axis_of(const DriveSpec& drive, double stated_peak = unlimited) {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, 0, 1})};
  cell.arm.joints[0].drive = drive;
  cell.arm.joints[0].torque_continuous = cell.arm.joints[0].torque_peak = stated_peak;
  cell.arm.links.resize(1);
  cell.arm.links[0].name = "link 1";
  return axis_drives(compile(cell))[0];
}

}  // namespace armwright::testing
