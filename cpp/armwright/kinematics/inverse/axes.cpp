#include "armwright/kinematics/inverse/axes.hpp"

#include <cmath>

#include "armwright/kinematics/inverse/tolerances.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {
// A wrist whose successive axes stand closer than this turns about two directions only, in effect.
constexpr double least_sine = 1e-3;
}  // namespace

Vec3 foot_on(const AxisLine& line, const Vec3& point) {
  return line.point + dot(point - line.point, line.direction) * line.direction;
}

CommonNormal common_normal(const AxisLine& a, const AxisLine& b) {
  CommonNormal result;
  const Vec3 n = cross(a.direction, b.direction);
  result.sine = norm(n);
  const Vec3 way = b.point - a.point;
  if (result.sine > parallel_tolerance) {
    const double square = result.sine * result.sine;
    result.foot_a = a.point + (dot(cross(way, b.direction), n) / square) * a.direction;
    result.foot_b = b.point + (dot(cross(way, a.direction), n) / square) * b.direction;
    result.direction = (1 / result.sine) * n;
    const double along = dot(way, result.direction);
    if (along < 0) result.direction = -result.direction;
    result.distance = std::fabs(along);
    return result;
  }
  result.foot_a = a.point;
  result.foot_b = foot_on(b, a.point);
  const Vec3 across = result.foot_b - result.foot_a;
  const Vec3 square_across = across - dot(across, a.direction) * a.direction;
  result.distance = norm(square_across);
  result.direction =
      result.distance > meeting_tolerance ? (1 / result.distance) * square_across : frame_on(a.direction).x;
  return result;
}

bool meet(const AxisLine& a, const AxisLine& b, const AxisLine& c, Vec3& point) {
  const CommonNormal ab = common_normal(a, b), bc = common_normal(b, c);
  if (ab.sine < least_sine || bc.sine < least_sine) return false;
  if (ab.distance > meeting_tolerance || bc.distance > meeting_tolerance) return false;
  if (norm(ab.foot_b - bc.foot_a) > meeting_tolerance) return false;
  point = 0.5 * (ab.foot_b + bc.foot_a);
  return true;
}

bool parallel(const AxisLine& a, const AxisLine& b) {
  return norm(cross(a.direction, b.direction)) < parallel_tolerance;
}

double angle_about(const Vec3& z, const Vec3& x, const Vec3& y) { return std::atan2(dot(z, cross(x, y)), dot(x, y)); }

}  // namespace armwright
