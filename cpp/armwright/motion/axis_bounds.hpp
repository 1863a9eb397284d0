#pragma once

#include <cmath>
#include <limits>

#include "armwright/motion/axis_drive.hpp"

namespace armwright {

/// Values of s̈ that some limits allow together; empty if least > greatest.
struct Allowed {
  double least = -std::numeric_limits<double>::infinity(), greatest = std::numeric_limits<double>::infinity();
  void at_most(double value) { if (value < greatest) greatest = value; }
  void at_least(double value) { if (value > least) least = value; }
  void nothing() { least = std::numeric_limits<double>::infinity(), greatest = -least; }
  bool empty() const { return !(least <= greatest); }
};

/// low <= c + k u <= high.
inline void allow_between(double c, double k, double low, double high, Allowed& u) {
  if (k != 0) {
    const double each = 1 / k, a = each * (low - c), b = each * (high - c);
    u.at_least(a < b ? a : b), u.at_most(a < b ? b : a);
  } else if (c < low || c > high) {
    u.nothing();
  }
}

/// One axis at one place of a path: axis torque = torque + inertia u, axis acceleration = bend + way u, for u = s̈ at a given ṡ.
struct AxisAlong {
  double torque, inertia;  ///< N m, N m s²
  double bend, way;        ///< rad/s² (m/s²), rad (m)
  double speed;            ///< of the axis, rad/s (m/s)
  double direction;        ///< sign counts; 0: at rest
};

/// Narrows `u` to what motor (peak curve), stages (repeated peak) and stated torque of the axis allow. Closed form: along u the
/// torque at each shaft, counted in the direction of motion, is the greatest of straight lines (one for each choice of power
/// direction at the stages, see drive_state()), so that the upper limit is all of them below it and the lower limit one of them above it.
void allow_torque(const AxisDrive& drive, const AxisAlong& axis, Allowed& u);

}  // namespace armwright
