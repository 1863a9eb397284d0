#pragma once

#include <array>

#include "armwright/limits/drive_check.hpp"

namespace armwright {

/// A polynomial in one parameter s: value[0] + value[1] s + value[2] s².
struct Course {
  std::array<double, 3> value{0, 0, 0};
  double at(double s) const { return value[0] + s * (value[1] + s * value[2]); }
};

/// How an axis' torque, speed and acceleration at one instant go with a parameter s >= 0: a load's mass (torque = t0 + s t1), or how
/// many times faster a motion is run (torque = t0 + s² t2, speed = s w, acceleration = s² a). The direction stays.
struct AxisCourse {
  Course torque, speed, acceleration;
  double direction = 0;
};

/// Where, going up from s = 0, a drive first passes a limit: s, and which part and limit. Infinite if not before `cap`.
struct Violation {
  double at = unlimited;
  std::int32_t axis = -1;
  std::int8_t part = part_none;
  CheckLimit limit = CheckLimit::motor_peak_torque;
  double time = std::numeric_limits<double>::quiet_NaN();
};

/// Motor against its peak curve and end speed, stages against their repeated peak, axis against its stated peak. Closed form: every
/// torque along the drive is a parabola in s between the places where a stage's power changes direction or a curve bends, so that
/// each limit is a root of a quadratic. `cap`: what lies beyond is not looked at.
Violation first_violation(const AxisDrive& drive, const AxisCourse& course, double cap);

/// The least root of c in (from, to] at which it goes from not more to more than 0; `from` if it is more there already;
/// infinite if there is none.
double first_above(const Course& c, double from, double to, double tolerance);

/// The motor's torque along a course where it is at s, going up: its parabola, and the end of it, at most `cap`.
struct MotorPiece {
  Course torque;
  double end;
};
MotorPiece motor_piece(const AxisDrive& drive, const AxisCourse& course, double s, double cap);

}  // namespace armwright
