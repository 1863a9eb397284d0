#pragma once

#include "armwright/limits/driven_motion.hpp"

namespace armwright {

/// A timed motion told at a fixed rate, as a controller takes it.
struct Setpoints {
  DrivenMotion driven;                      ///< rows at start + i/rate, and the end
  std::vector<double> motor_position;       ///< rows × joint_count, motor shaft, rad from where all joints are at 0
  std::vector<double> greatest_motor_speed; ///< an axis each, over the rows of the motion itself, rad/s
};

/// `rate` in 1/s. Where the motion jumps at an instant, what comes after it is told; at the end, what stands last.
Setpoints setpoints(const Model& model, std::span<const Inertia> loads, const TimedMotion& motion, double rate);

}  // namespace armwright
