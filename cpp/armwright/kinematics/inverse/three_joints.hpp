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

/// A distance along axis 2 that fills the distance from axis 1 but for this share (squared: rounding) fills it.
inline constexpr double in_line_sine = 6e-8;

inline constexpr double free_radius = 5e-11;  ///< m: a point nearer to an axis counts as on it

template <class T>
struct ThreeTurns {
  Turn<T> t1, t2, t3;
  T miss;              ///< squared distance from the point, m²
  T radius1, radius2;  ///< squared distance of the point from axes 1 and 2, m²: near 0 the joint is free
};

/// The turn of the second of two links, up to its sign, so that they reach the squared distance; beyond reach, the
/// nearest, stretched or folded. What cannot be told from stretched or folded, because it lies within rounding of the
/// distance, is so: a wrist behind it then stands in line exactly where it was meant to.
template <class T>
ARMWRIGHT_INLINE Turn<T> elbow_turn(double first, double second, T square) {
  const double longest = first + second, shortest = first - second;
  const T n = T(longest * longest) - square, m = square - T(shortest * shortest);
  const T noise = T(1e-30 * longest * longest) * square;  // of n and m, squared
  const T n0 = select((n > T(0.0)) & (n * n > noise), n, T(0.0));
  const T m0 = select((m > T(0.0)) & (m * m > noise), m, T(0.0));
  const T scale = T(1.0) / (n0 + m0);
  return {(m0 - n0) * scale, T(2.0) * square_root(n0 * m0) * scale};
}

/// Where the turns bring the point, as far as it does not depend on t1, and how that changes.
template <class T>
struct Carried {
  Vector3<T> f, g;         ///< before Rz(t2) and before Rz(t1)
  Vector3<T> by_t2, by_t3;  ///< derivatives of g
};
template <class T>
ARMWRIGHT_INLINE Carried<T> carried(const ThreeJoints& arm, const Turn<T>& t2, const Turn<T>& t3) {
  Carried<T> r;
  const T rc = T(arm.r) * t3.c, rs = T(arm.r) * t3.s;
  r.f = {T(arm.a2) + rc, T(arm.c3) * rs - T(arm.s3 * arm.e), T(arm.s3) * rs + T(arm.c3 * arm.e + arm.d2)};
  const auto out = [&](const Vector3<T>& v) {
    const T x = t2.c * v.x - t2.s * v.y, y = t2.s * v.x + t2.c * v.y;
    return Vector3<T>{x, T(arm.c2) * y - T(arm.s2) * v.z, T(arm.s2) * y + T(arm.c2) * v.z};
  };
  r.g = out(r.f);
  r.by_t2 = out({-r.f.y, r.f.x, T(0.0)});
  r.by_t3 = out({-rs, T(arm.c3) * rc, T(arm.s3) * rc});
  r.g.x = r.g.x + T(arm.a1);
  return r;
}

/// t1 and t2 from t3 and u, for joints 1 and 2 free to turn set to `set1`, `set2`.
template <class T>
ARMWRIGHT_INLINE ThreeTurns<T> complete(const ThreeJoints& arm, const Vec3& point, T c3, T s3, T ux, T uy,
                                        const Turn<double>& set1, const Turn<double>& set2) {
  ThreeTurns<T> r;
  r.t3 = {c3, s3};
  const T fx = T(arm.a2) + T(arm.r) * c3, fy = T(arm.c3 * arm.r) * s3 - T(arm.s3 * arm.e);
  r.radius2 = fx * fx + fy * fy;
  const auto free2 = r.radius2 < T(free_radius * free_radius);
  const Turn<T> t2 = turn_between(fx, fy, ux, uy);
  r.t2 = {select(free2, T(set2.c), t2.c), select(free2, T(set2.s), t2.s)};
  const Vector3<T> g = carried(arm, r.t2, r.t3).g;
  const T px(point.x), py(point.y);
  r.radius1 = px * px + py * py;
  const auto free1 = r.radius1 < T(free_radius * free_radius);
  const Turn<T> t1 = turn_between(g.x, g.y, px, py);
  r.t1 = {select(free1, T(set1.c), t1.c), select(free1, T(set1.s), t1.s)};
  const T dx = r.t1.c * g.x - r.t1.s * g.y - px, dy = r.t1.s * g.x + r.t1.c * g.y - py, dz = g.z - T(point.z);
  r.miss = dx * dx + dy * dy + dz * dz;
  return r;
}

/// The turn, turned on by a small angle.
template <class T>
ARMWRIGHT_INLINE Turn<T> turned_on(const Turn<T>& t, T angle) {
  const T c = t.c - t.s * angle, s = t.s + t.c * angle;
  const T scale = T(1.0) / square_root(c * c + s * s);
  return {scale * c, scale * s};
}

/// One Newton step on the position, kept where it makes the misfit smaller: the roots of a polynomial are less exact
/// than the pose they stand for.
template <class T>
ARMWRIGHT_INLINE void refine(const ThreeJoints& arm, const Vec3& point, ThreeTurns<T>& r) {
  const Carried<T> at = carried(arm, r.t2, r.t3);
  const T px(point.x), py(point.y), pz(point.z);
  // All seen before Rz(t1).
  const Vector3<T> missing = Vector3<T>{r.t1.c * px + r.t1.s * py, r.t1.c * py - r.t1.s * px, pz} - at.g;
  const Vector3<T> by_t1{-at.g.y, at.g.x, T(0.0)};
  const Vector3<T> n23 = cross(at.by_t2, at.by_t3);
  const T volume = dot(by_t1, n23);
  const auto regular = absolute(volume) > T(1e-12);
  const T scale = T(1.0) / select(regular, volume, T(1.0));
  const T d1 = scale * dot(missing, n23);
  const T d2 = scale * dot(missing, cross(at.by_t3, by_t1));
  const T d3 = scale * dot(missing, cross(by_t1, at.by_t2));
  const Turn<T> t1 = turned_on(r.t1, d1), t2 = turned_on(r.t2, d2), t3 = turned_on(r.t3, d3);
  const Vector3<T> g = carried(arm, t2, t3).g;
  const T dx = t1.c * g.x - t1.s * g.y - px, dy = t1.s * g.x + t1.c * g.y - py, dz = g.z - pz;
  const T miss = dx * dx + dy * dy + dz * dz;
  const auto better = regular & (miss < r.miss);
  const auto pick = [&](const Turn<T>& yes, Turn<T>& no) {
    no = {select(better, yes.c, no.c), select(better, yes.s, no.s)};
  };
  pick(t1, r.t1);
  pick(t2, r.t2);
  pick(t3, r.t3);
  r.miss = select(better, miss, r.miss);
}

}  // namespace armwright
