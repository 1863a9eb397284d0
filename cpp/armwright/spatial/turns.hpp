#pragma once

#include <cmath>

#include "armwright/spatial/pose.hpp"

namespace armwright {

/// Rotation by `angle` (rad) about a unit axis (Rodrigues).
inline Rotation turn_about(const Vec3& axis, double angle) {
  const double c = std::cos(angle), s = std::sin(angle), k = 1 - c;
  const auto& [x, y, z] = axis;
  return {{c + x * x * k, y * x * k + z * s, z * x * k - y * s},
          {x * y * k - z * s, c + y * y * k, z * y * k + x * s},
          {x * z * k + y * s, y * z * k - x * s, c + z * z * k}};
}

/// The angle of a rotation, rad in [0, pi]: from twice its sine and twice its cosine together, so that it is good near
/// both ends, where one of the two alone is not.
inline double angle_of(const Rotation& R) {
  const Vec3 off{R.y.z - R.z.y, R.z.x - R.x.z, R.x.y - R.y.x};
  return std::atan2(norm(off), R.x.x + R.y.y + R.z.z - 1);
}

/// Angle between two rotations, rad in [0, pi].
inline double angle_between(const Rotation& A, const Rotation& B) { return angle_of(transpose(A) * B); }

/// A rotation whose z axis is the given unit vector; the x axis is chosen the same way for the same z.
inline Rotation frame_on(const Vec3& z) {
  const Vec3 helper = std::fabs(z.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
  Vec3 x = cross(helper, z);
  x = (1 / norm(x)) * x;
  return {x, cross(z, x), z};
}

}  // namespace armwright
