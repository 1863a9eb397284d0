#pragma once

#include "armwright/kinematics/inverse/six_chain.hpp"

namespace armwright {

/// Two axis lines and the shortest way between them. For parallel lines the feet are those nearest the first point.
struct CommonNormal {
  Vec3 foot_a, foot_b;  ///< on the first and on the second line
  Vec3 direction;       ///< unit, square to both, from a to b where they do not meet
  double distance;      ///< m
  double sine;          ///< of the angle between the lines, >= 0
};
CommonNormal common_normal(const AxisLine& a, const AxisLine& b);

/// The foot of a point on a line.
Vec3 foot_on(const AxisLine& line, const Vec3& point);

/// Whether three successive axes meet in one point whatever the middle joint does, within meeting_tolerance: then
/// `point` is where (on the middle axis). Axes that are nearly in line with their neighbour do not count.
bool meet(const AxisLine& a, const AxisLine& b, const AxisLine& c, Vec3& point);

/// Whether two axes are parallel or opposite, within parallel_tolerance.
bool parallel(const AxisLine& a, const AxisLine& b);

/// Angle about the unit vector z that takes x into y, both square to z.
double angle_about(const Vec3& z, const Vec3& x, const Vec3& y);

}  // namespace armwright
