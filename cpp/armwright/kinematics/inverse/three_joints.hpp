#pragma once

#include <array>
#include <cstdint>
#include <optional>

#include "armwright/kinematics/inverse/arc_tangent.hpp"
#include "armwright/kinematics/inverse/axes.hpp"
#include "armwright/spatial/pose.hpp"

namespace armwright {

/// How the position problem of three joints is solved.
enum class ThreeJointsKind : std::uint8_t {
  elbow,         ///< axes 2 and 3 parallel: side of axis 1, then two links in a plane
  shoulder_meets,    ///< axes 1 and 2 meet: the distance from there tells joint 3
  shoulder_parallel, ///< axes 1 and 2 parallel: the height along them tells joint 3
  general        ///< a quartic (Pieper 1968)
};

/// Three joints that carry a point, told by seven numbers. With p the point seen from the frame `base`:
/// p = Rz(t1)[(a1,0,0) + Rx(alpha2) Rz(t2) f],  f = (a2,0,d2) + Rx(alpha3)(Rz(t3)(r,0,0) + (0,0,e)).
/// The angles ti are the joint values times `sign` plus `shift`.
struct ThreeJoints {
  ThreeJointsKind kind{};
  Pose base{};  ///< z on axis 1, origin at the foot of the common normal with axis 2, x along it at q = 0
  double a1{}, c2{}, s2{}, a2{}, d2{}, c3{}, s3{}, e{}, r{};
  std::array<double, 3> sign{}, shift{};
  Rotation third{};  ///< the frame that turns with joint 3 (x towards the point), at q = 0, in the chain's base frame
};

/// From the axes at q = 0 and the point carried, all in the chain's base frame. Nothing if the three joints cannot
/// move the point about in space.
std::optional<ThreeJoints> three_joints(const AxisLine& first, const AxisLine& second, const AxisLine& third,
                                        const Vec3& point);

/// Up to four ways to reach the point, not yet complete: the turn of joint 3 and the plane part of Rz(t2) f.
struct Reaches {
  int count = 0;
  std::array<double, 4> c3{}, s3{}, ux{}, uy{};
};
/// The point is seen from `base`. For every kind but elbow, which has its own way in lanes.
Reaches reaches_of(const ThreeJoints& arm, const Vec3& point);

inline constexpr double free_radius = 5e-11;  ///< m: a point nearer to an axis counts as on it

template <class T>
struct ThreeTurns {
  Turn<T> t1, t2, t3;
  T miss;              ///< squared distance from the point, m²
  T radius1, radius2;  ///< squared distance of the point from axes 1 and 2, m²: near 0 the joint is free
};

/// t1 and t2 from t3 and u, for joints 1 and 2 free to turn set to `set1`, `set2`.
template <class T>
ARMWRIGHT_INLINE ThreeTurns<T> complete(const ThreeJoints& arm, const Vec3& point, T c3, T s3, T ux, T uy,
                                        const Turn<double>& set1, const Turn<double>& set2) {
  ThreeTurns<T> r;
  const T fx = T(arm.a2) + T(arm.r) * c3;
  const T fy = T(arm.c3 * arm.r) * s3 - T(arm.s3 * arm.e);
  const T fz = T(arm.s3 * arm.r) * s3 + T(arm.c3 * arm.e + arm.d2);
  r.t3 = {c3, s3};
  r.radius2 = fx * fx + fy * fy;
  const auto free2 = r.radius2 < T(free_radius * free_radius);
  const Turn<T> t2 = turn_between(fx, fy, ux, uy);
  r.t2 = {select(free2, T(set2.c), t2.c), select(free2, T(set2.s), t2.s)};
  const T vx = r.t2.c * fx - r.t2.s * fy, vy = r.t2.s * fx + r.t2.c * fy;
  const T gx = T(arm.a1) + vx, gy = T(arm.c2) * vy - T(arm.s2) * fz, gz = T(arm.s2) * vy + T(arm.c2) * fz;
  const T px(point.x), py(point.y);
  r.radius1 = px * px + py * py;
  const auto free1 = r.radius1 < T(free_radius * free_radius);
  const Turn<T> t1 = turn_between(gx, gy, px, py);
  r.t1 = {select(free1, T(set1.c), t1.c), select(free1, T(set1.s), t1.s)};
  const T dx = r.t1.c * gx - r.t1.s * gy - px, dy = r.t1.s * gx + r.t1.c * gy - py, dz = gz - T(point.z);
  r.miss = dx * dx + dy * dy + dz * dz;
  return r;
}

}  // namespace armwright
