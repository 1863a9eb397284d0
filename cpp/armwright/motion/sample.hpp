#pragma once

#include "armwright/motion/timed_motion.hpp"

namespace armwright {

/// The motion at times 0, 1/rate, 2/rate ... and at its very end. Between rows q is the polynomial of fifth degree with the rows' positions,
/// speeds and accelerations: where the acceleration is linear, as it is told to be, that is the cubic of it exactly, and
/// nowhere does it leave the rows. `rate` in 1/s.
TimedMotion sample_motion(const TimedMotion& motion, double rate);

/// The same at given times, s, rising.
TimedMotion motion_at(const TimedMotion& motion, const std::vector<double>& times);

/// Adds the control points of that polynomial from `row` to the next, as a function of the share of the time between (Bernstein form):
/// 6 × joints. The rows' times differ.
void append_control_points(const TimedMotion& motion, std::size_t row, std::vector<double>& out);

}  // namespace armwright
