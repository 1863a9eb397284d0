#pragma once

#include <cmath>
#include <limits>
#include <span>

#include "armwright/elements/rolling_bearing.hpp"

namespace armwright {

/// One bearing that takes radial load, axial load and tilting moment alone.
struct SlewingBearing {
  RollingBearing rolling;
  double pitch_diameter = 0;                                                  ///< m
  double moment_rating = std::numeric_limits<double>::quiet_NaN();            ///< static, N m; NaN: not told
};

/// The radial load, N, that stands for a radial load (N) and a tilting moment (N m) on a circle of rolling elements of a diameter (m):
/// Fr + 2 M/dp, as makers of crossed roller bearings have it. For balls: common practice, no source.
inline double tilted_radial_load(double radial, double moment, double pitch_diameter) { return radial + 2 * moment / pitch_diameter; }

/// How many times an axial force (N) and a tilting moment (N m) together could be had on a maker's line of static limits, moment over
/// axial force, by growing force. Lines that begin at 0 or above hold for both ways; before the first point its moment counts, beyond
/// the last nothing is allowed. Infinite without load.
double limit_line_safety(std::span<const double> line_force, std::span<const double> line_moment, double axial, double moment);

/// Angle, rad, from end to end of a swing below which the paths of neighbouring rolling elements no longer overlap: an element goes
/// half as far round as the ring that turns, so that a swing of twice the pitch of the elements is needed. The rolling diameter
/// against the pitch diameter is left out (some percent to a fifth). Every other roller of a crossed roller bearing runs on the same path.
/// Geometry; the same as Harris's critical angle of oscillation (from memory) with that ratio 0.
inline double critical_swing(BearingKind kind, int element_count) {
  const double on_a_path = kind == BearingKind::crossed_roller ? element_count / 2.0 : element_count;
  return 4 * 3.14159265358979323846 / on_a_path;
}

}  // namespace armwright
