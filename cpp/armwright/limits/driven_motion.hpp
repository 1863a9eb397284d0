#pragma once

#include <span>

#include "armwright/limits/refined_motion.hpp"
#include "armwright/motion/drive_torques.hpp"

namespace armwright {

/// A motion with the torques that it takes, all rows × joint_count unless told otherwise. Between rows of different times they are
/// taken as straight; the rows stand close enough for that (see refined_motion).
struct DrivenMotion {
  RefinedMotion motion;
  std::vector<AxisDrive> drives;
  std::vector<double> joint_torque, axis_torque;    ///< N m, N: what links, tool and load need
  std::vector<double> motor_torque, motor_speed;    ///< at the motor's shaft; the axis' own where no drive is described
  std::vector<double> stage_torque, stage_speed;    ///< rows × joint_count × max_stages: at the output, at the input
};

/// `loads`: in the last joint frame, what the motion's load indices name; -1 carries nothing.
DrivenMotion driven_motion(const Model& model, std::span<const Inertia> loads, const TimedMotion& motion, double step);

/// The same for rows that stand already.
DrivenMotion driven_rows(const Model& model, std::span<const Inertia> loads, RefinedMotion motion);

/// The joint torques of a refined motion with its loads, or at the same postures but at rest. Loads without a mass in
/// `loads` count as nothing. rows × joint_count.
std::vector<double> joint_torques(const Model& model, std::span<const Inertia> loads, const RefinedMotion& motion, bool at_rest);

}  // namespace armwright
