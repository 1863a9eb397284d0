#pragma once

#include <functional>

#include "armwright/limits/scaled_torques.hpp"

namespace armwright {

/// How long each way between two rows counts at speed factor u: 1/u times as long where anything moves, as long as before where all
/// stands. At u = 0 only the moving ways count, in proportion (if nothing moves: all).
struct CycleWeights {
  std::vector<double> span;  ///< of row r to r + 1, s (or shares of one)
  double total = 0;
};
CycleWeights cycle_weights(const RefinedMotion& motion, double u);

/// What a mean limit looks at, for a course of every row (by speed or by load) at one value of its parameter.
using CourseOf = std::function<AxisCourse(std::size_t row)>;

double rms_motor_torque(const AxisDrive& drive, const CourseOf& course, const CycleWeights& weights, double s);
double rms_motor_speed(const AxisDrive& drive, const CourseOf& course, const CycleWeights& weights, double s);
double rms_axis_torque(const CourseOf& course, const CycleWeights& weights, double s);

/// Mean powered torque of a stage, or the root mean square where it never turns.
double mean_stage_torque(const AxisDrive& drive, std::size_t stage, double exponent, const CourseOf& course, const CycleWeights& weights, double s);

/// The least s in [0, cap] at which f goes above 0, f(cap) being above: sixteen places are looked at, then it is bracketed
/// (Illinois rule) to a part in 1e12; 0 if f(0) is above.
double first_crossing(const std::function<double(double)>& f, double cap);

}  // namespace armwright
