#pragma once

#include <cstddef>
#include <span>

namespace armwright {

/// Torque of a curve of straight spans at a speed, both in any unit; `speed` rises from 0. 0 beyond the last point.
inline double curve_value(std::span<const double> speed, std::span<const double> torque, double at) {
  for (std::size_t i = 1; i < speed.size(); ++i) {
    if (at > speed[i]) continue;
    const double share = (at - speed[i - 1]) / (speed[i] - speed[i - 1]);
    return torque[i - 1] + share * (torque[i] - torque[i - 1]);
  }
  return !speed.empty() && at <= speed.back() ? torque.back() : 0;
}

/// The greatest speed up to which the curve gives at least `needed` without a break, starting from rest; -1 if it does
/// not even at rest.
inline double greatest_speed(std::span<const double> speed, std::span<const double> torque, double needed) {
  if (speed.empty() || torque[0] < needed) return -1;
  for (std::size_t i = 1; i < speed.size(); ++i) {
    if (torque[i] >= needed) continue;
    return speed[i - 1] + (speed[i] - speed[i - 1]) * (torque[i - 1] - needed) / (torque[i - 1] - torque[i]);
  }
  return speed.back();
}

}  // namespace armwright
