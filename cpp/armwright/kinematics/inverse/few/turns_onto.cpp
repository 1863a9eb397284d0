#include "armwright/kinematics/inverse/few/turns_onto.hpp"

namespace armwright {

namespace {

constexpr double in_line = 1e-7;  // sine: axes 1 and 3

// A vector square to the axis.
Vec3 across(const Vec3& axis) { return frame_on(axis).x; }

double turn_left(const Vec3& axis, const Rotation& R) { return angle_seen_along(axis, across(axis), R * across(axis)); }

}  // namespace

TurnsOnto turns_onto(std::span<const Vec3> axes, const Rotation& R, double first) {
  TurnsOnto out;
  if (axes.size() < 3) {
    out.count = 1;
    if (axes.size() == 2) out.angle[0][0] = angle_seen_along(axes[0], axes[1], R * axes[1]);
    if (axes.size() == 2) out.angle[0][1] = turn_left(axes[1], transpose(turn_about(axes[0], out.angle[0][0])) * R);
    if (axes.size() == 1) out.angle[0][0] = turn_left(axes[0], R);
    return out;
  }
  const Vec3 &a = axes[0], &b = axes[1], &c = axes[2];
  const Vec3 wanted = R * c;
  // a · Rot(b, t2) c = a · R c
  const double fixed = dot(a, b) * dot(b, c);
  const TwoAngles second = angles_with(dot(a, c) - fixed, dot(a, cross(b, c)), dot(a, wanted) - fixed);
  for (int k = 0; k < second.count; ++k) {
    auto& t = out.angle[static_cast<std::size_t>(out.count++)];
    t[1] = second.angle[static_cast<std::size_t>(k)];
    const Rotation R2 = turn_about(b, t[1]);
    const Vec3 third = R2 * c;
    if (norm(cross(a, third)) < in_line) {
      t[0] = first;
      out.free = true;
    } else {
      t[0] = angle_seen_along(a, third, wanted);
    }
    t[2] = turn_left(c, transpose(turn_about(a, t[0]) * R2) * R);
  }
  return out;
}

}  // namespace armwright
