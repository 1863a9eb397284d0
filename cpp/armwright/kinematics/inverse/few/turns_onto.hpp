#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <span>

#include "armwright/spatial/turns.hpp"

namespace armwright {

/// Angle about the unit vector `axis` from x to y, both seen along the axis; rad.
inline double angle_seen_along(const Vec3& axis, const Vec3& x, const Vec3& y) {
  return std::atan2(dot(axis, cross(x, y)), dot(x, y) - dot(x, axis) * dot(y, axis));
}

/// The angles t with c cos t + s sin t = k: none, one (where they fall together, within `slack`) or two.
struct TwoAngles {
  int count = 0;
  std::array<double, 2> angle{};
};
inline TwoAngles angles_with(double c, double s, double k, double slack = 1e-5) {
  const double r = std::hypot(c, s);
  if (r < 1e-12 || std::fabs(k) > r * (1 + slack) + slack * slack) return {};
  const double middle = std::atan2(s, c), off = std::acos(std::fmax(-1.0, std::fmin(1.0, k / r)));
  if (off < 1e-12 || std::fabs(k) >= r) return {1, {middle + off, 0}};
  return {2, {middle + off, middle - off}};
}

/// Turns about up to three axes, one after another, that make the rotation R:
/// Rot(a1, t1) Rot(a2, t2) Rot(a3, t3) = R, neighbouring axes not parallel. Two answers at most; with fewer than three axes the
/// rotation may be missed: the nearest sense is given. `free`: axes 1 and 3 fall in line, and t1 stands at `first`.
struct TurnsOnto {
  int count = 0;
  std::array<std::array<double, 3>, 2> angle{};
  bool free = false;
};
TurnsOnto turns_onto(std::span<const Vec3> axes, const Rotation& R, double first = 0);

}  // namespace armwright
