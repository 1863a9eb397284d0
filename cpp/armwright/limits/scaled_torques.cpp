#include "armwright/limits/scaled_torques.hpp"

#include <algorithm>

namespace armwright {

namespace {

// Into axes, in place.
void to_axes(const Model& model, std::vector<double>& torque) {
  std::array<double, max_joints> axis;
  for (std::size_t at = 0; at < torque.size(); at += model.joint_count) {
    axis_torques(model, &torque[at], axis.data());
    std::copy_n(axis.begin(), model.joint_count, torque.begin() + static_cast<std::ptrdiff_t>(at));
  }
}

std::vector<double> less(std::vector<double> a, const std::vector<double>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) a[i] -= b[i];
  return a;
}

}  // namespace

ScaledTorques scaled_torques(const Model& model, std::span<const Inertia> loads, const TimedMotion& motion, double step) {
  ScaledTorques out;
  out.motion = refined_motion(model, motion, step);
  out.drives = axis_drives(model);
  out.stages.resize(model.joint_count * max_stages);
  for (std::size_t k = 0; k < model.joint_count; ++k)
    if (out.drives[k].present) std::copy_n(model.drive[k].stage.begin(), max_stages, out.stages.begin() + static_cast<std::ptrdiff_t>(k * max_stages));
  const std::vector<Inertia> nothing(loads.size());
  std::vector<double> still = joint_torques(model, nothing, out.motion, true), all = joint_torques(model, nothing, out.motion, false);
  std::vector<double> loaded_still = joint_torques(model, loads, out.motion, true), loaded = joint_torques(model, loads, out.motion, false);
  for (auto* each : {&still, &all, &loaded_still, &loaded}) to_axes(model, *each);
  out.load_still = less(std::move(loaded_still), still);
  out.load_moving = less(less(std::move(loaded), all), out.load_still);
  out.arm_moving = less(std::move(all), still);
  out.arm_still = std::move(still);
  return out;
}

AxisCourse over_speed(const ScaledTorques& torques, std::size_t row, std::size_t axis) {
  const std::size_t at = row * torques.motion.joint_count + axis;
  AxisCourse out;
  out.torque.value = {torques.arm_still[at] + torques.load_still[at], 0, torques.arm_moving[at] + torques.load_moving[at]};
  out.speed.value[1] = torques.motion.axis_speed[at];
  out.acceleration.value[2] = torques.motion.axis_acceleration[at];
  out.direction = torques.motion.direction[at];
  return out;
}

AxisCourse over_load(const ScaledTorques& torques, std::size_t row, std::size_t axis, double u) {
  const std::size_t at = row * torques.motion.joint_count + axis;
  AxisCourse out;
  out.torque.value = {torques.arm_still[at] + u * u * torques.arm_moving[at], torques.load_still[at] + u * u * torques.load_moving[at], 0};
  out.speed.value[0] = u * torques.motion.axis_speed[at];
  out.acceleration.value[0] = u * u * torques.motion.axis_acceleration[at];
  out.direction = torques.motion.direction[at];
  return out;
}

DriveState<double> state_at(const AxisDrive& drive, const AxisCourse& course, double s) {
  return drive_state(drive, course.torque.at(s), course.speed.at(s), course.acceleration.at(s), course.direction);
}

double scaled_duration(const RefinedMotion& motion, double u) {
  double moving = 0, standing = 0;
  for (std::size_t r = 0; r + 1 < motion.rows(); ++r) {
    const double* direction = &motion.direction[r * motion.joint_count];
    const bool moves = std::any_of(direction, direction + motion.joint_count, [](double d) { return d != 0; });
    (moves ? moving : standing) += motion.time[r + 1] - motion.time[r];
  }
  return moving > 0 ? moving / u + standing : standing;
}

}  // namespace armwright
