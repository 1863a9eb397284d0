#pragma once

#include <cmath>
#include <limits>

#include "armwright/elements/root_mean.hpp"

namespace armwright {

/// Integral of |speed| · |torque|^exponent during a time in which both go straight from a value to another (speed not through
/// 0): the weight that a reducer's bearing life gives a load. Cut where the torque changes sign; three-point Gauss
/// quadrature, exact up to exponent 4, within 1e-3 of the part's own sum for 10/3.
inline double wear_integral(double torque_a, double torque_b, double speed_a, double speed_b, double exponent, double time) {
  const auto part = [&](double from, double to) {  // shares of the time
    constexpr double place[] = {0.1127016653792583, 0.5, 0.8872983346207417}, weight[] = {5.0 / 18, 8.0 / 18, 5.0 / 18};
    double sum = 0;
    for (int i = 0; i < 3; ++i) {
      const double s = from + (to - from) * place[i];
      sum += weight[i] * std::fabs(speed_a + s * (speed_b - speed_a)) * std::pow(std::fabs(torque_a + s * (torque_b - torque_a)), exponent);
    }
    return sum * (to - from) * time;
  };
  if (torque_a * torque_b >= 0) return part(0, 1);
  const double zero = torque_a / (torque_a - torque_b);
  return part(0, zero) + part(zero, 1);
}

/// Mean powered torque (cubed for strain wave reducers, 10/3 for cycloidal): (sum n T^p t / sum n t)^(1/p), as the makers of both
/// kinds define it. `wear`: sum of wear_integral; `turned`: integral of |speed|. 0 where nothing turned.
inline double mean_powered_torque(double wear, double turned, double exponent) {
  return turned > 0 ? std::pow(wear / turned, 1 / exponent) : 0;
}

/// Life, s: rated life · (rated speed / mean input speed) · (rated torque / mean powered torque)^p; infinite where
/// nothing turns or loads it. Half of all strain wave reducers reach the L50 that this gives for an L50 rating; L10 is about a fifth.
inline double reducer_life(double rated_life, double rated_speed, double rated_torque, double mean_speed, double mean_torque, double exponent) {
  if (!(mean_speed > 0 && mean_torque > 0)) return std::numeric_limits<double>::infinity();
  return rated_life * (rated_speed / mean_speed) * std::pow(rated_torque / mean_torque, exponent);
}

/// How many momentary peaks (collisions, emergency stops) a strain wave reducer stands in its life: each input turn bends every
/// tooth twice, and 1e4 such bends at the momentary peak torque are allowed. `input_speed` rad/s during a peak of `time` s.
inline double momentary_peaks(double input_speed, double time) {
  const double turns = std::fabs(input_speed) * time / 6.283185307179586;
  return turns > 0 ? 1e4 / (2 * turns) : std::numeric_limits<double>::infinity();
}

}  // namespace armwright
