#pragma once

#include <cmath>

namespace armwright {

/// Encoder counts, or steps, a second at a motor speed of either sign (rad/s) and a number of counts a turn.
inline double pulse_rate(double motor_speed, double counts_a_turn) { return std::fabs(motor_speed) * counts_a_turn / 6.283185307179586; }

/// Counts from zero at a motor angle, rad; not rounded.
inline double encoder_count(double motor_angle, double counts_a_turn) { return motor_angle * counts_a_turn / 6.283185307179586; }

}  // namespace armwright
