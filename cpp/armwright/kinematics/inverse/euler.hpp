#pragma once

#include <cmath>

#include "armwright/kinematics/inverse/arc_tangent.hpp"
#include "armwright/spatial/pose.hpp"

namespace armwright {

/// Three axes in a row that turn only: M = Rz(a) Rx(first) Rz(b) Rx(second) Rz(c), with the two angles between
/// successive axes anything but 0 or pi. Serves every wrist, and the sum of three parallel joints before one.
struct EulerAxes {
  double c1, s1, c2, s2;          ///< of the angles between the axes
  double sum_c, sum_s;            ///< of half their sum
  double difference_c, difference_s;  ///< of half their difference
  double sign;                    ///< of s1·s2
  bool square;                    ///< both angles are right ones

  static EulerAxes make(double first, double second) {
    EulerAxes e{std::cos(first), std::sin(first), std::cos(second), std::sin(second), std::cos(0.5 * (first + second)),
                std::sin(0.5 * (first + second)), std::cos(0.5 * (first - second)), std::sin(0.5 * (first - second)),
                1, std::fabs(std::cos(first)) < 1e-14 && std::fabs(std::cos(second)) < 1e-14};
    e.sign = e.s1 * e.s2 < 0 ? -1 : 1;
    if (e.square) e.c1 = e.c2 = 0;
    return e;
  }
};

template <class T>
struct EulerTurns {
  Turn<T> a, b, c;
  T miss;      ///< squared misfit of the rotation; about the square of the angle missed
  T straight;  ///< sine of the angle between the outer axes: 0 where they are in line and may turn against each other
};

/// Which of the outer turns is set freely where the outer axes are in line, and to what.
enum class FreeTurn { first, last };

inline constexpr double straight_sine = 5e-11;  ///< below this the outer axes count as in line

/// Rx(angle) v.
template <class T>
ARMWRIGHT_INLINE Vector3<T> tilt(double c, double s, const Vector3<T>& v) {
  return {v.x, T(c) * v.y - T(s) * v.z, T(s) * v.y + T(c) * v.z};
}
/// Rz(turn) v.
template <class T>
ARMWRIGHT_INLINE Vector3<T> spin(const Turn<T>& t, const Vector3<T>& v) {
  return {t.c * v.x - t.s * v.y, t.s * v.x + t.c * v.y, v.z};
}
/// Rz(turn)ᵀ v.
template <class T>
ARMWRIGHT_INLINE Vector3<T> spin_back(const Turn<T>& t, const Vector3<T>& v) {
  return {t.c * v.x + t.s * v.y, t.c * v.y - t.s * v.x, v.z};
}
template <class T>
ARMWRIGHT_INLINE Turn<T> select_turn(decltype(T(0.0) < T(0.0)) mask, const Turn<T>& yes, const Turn<T>& no) {
  return {select(mask, yes.c, no.c), select(mask, yes.s, no.s)};
}

/// The middle turn, up to its sign, from zᵀ M z = c1 c2 - s1 s2 cos b. With beta the angle between the outer axes,
/// sin²(b/2) : cos²(b/2) = sin((sum + beta)/2) sin((sum - beta)/2) : sin((beta + diff)/2) sin((beta - diff)/2),
/// which keeps its digits where the outer axes are in line, as the arc cosine does not. Where the rotation is out of
/// reach the nearest b is given.
template <class T>
ARMWRIGHT_INLINE Turn<T> middle_turn(const EulerAxes& axes, T cosine, T sine) {
  if (axes.square) {  // zᵀ M z = -sign cos b
    const T scale = T(1.0) / square_root(cosine * cosine + sine * sine);
    return {T(-axes.sign) * cosine * scale, sine * scale};
  }
  const T larger = square_root(T(0.5) + T(0.5) * absolute(cosine));
  const T smaller = sine / (larger + larger);
  const auto front = cosine >= T(0.0);
  const T half_c = select(front, larger, smaller), half_s = select(front, smaller, larger);
  const T p = T(axes.sum_s) * half_c, r = T(axes.sum_c) * half_s;
  const T u = T(axes.difference_c) * half_s, v = T(axes.difference_s) * half_c;
  const T n = maximum(T(axes.sign) * (p + r) * (p - r), T(0.0));
  const T d = maximum(T(axes.sign) * (u + v) * (u - v), T(0.0));
  const T scale = T(1.0) / maximum(n + d, T(1e-300));
  return {(d - n) * scale, T(2.0) * square_root(n * d) * scale};
}

/// The first two turns alone, which M's last column Mz tells, with the sine of the middle one >= 0 (side = 1) or <= 0
/// (side = -1), where the outer axes are not in line.
template <class T>
struct FirstTwoTurns {
  Turn<T> a, b;
  Vector3<T> x;  ///< Rz(a) Rx(first) Rz(b) x: the last turn is {dot(x, M x), -dot(x, M y)}
  T miss;        ///< squared misfit of Mz
  T straight;    ///< as in EulerTurns
};
template <class T>
ARMWRIGHT_INLINE FirstTwoTurns<T> first_two_turns(const EulerAxes& axes, const Vector3<T>& Mz, double side) {
  FirstTwoTurns<T> r;
  r.straight = square_root(Mz.x * Mz.x + Mz.y * Mz.y);
  if (axes.square) {  // Mz = (s2 sin b cos a, s2 sin b sin a, -s1 s2 cos b)
    const T scale = T(side * axes.s2) / maximum(r.straight, T(1e-300));
    r.a = {scale * Mz.x, scale * Mz.y};
    r.b = {T(-axes.sign) * Mz.z, T(side) * r.straight};
    r.x = {r.a.c * r.b.c, r.a.s * r.b.c, T(axes.s1) * r.b.s};
    r.miss = T(0.0);
    return r;
  }
  r.b = middle_turn(axes, Mz.z, r.straight);
  r.b.s = T(side) * r.b.s;
  const Vector3<T> v = tilt(axes.c1, axes.s1, Vector3<T>{T(axes.s2) * r.b.s, T(-axes.s2) * r.b.c, T(axes.c2)});
  r.a = turn_between(v.x, v.y, Mz.x, Mz.y);
  r.x = spin(r.a, tilt(axes.c1, axes.s1, Vector3<T>{r.b.c, r.b.s, T(0.0)}));
  const Vector3<T> away = spin(r.a, v) - Mz;
  r.miss = dot(away, away);
  return r;
}

/// M decomposed, with the sine of the middle turn >= 0 (side = 1) or <= 0 (side = -1).
template <class T>
ARMWRIGHT_INLINE EulerTurns<T> euler_turns(const EulerAxes& axes, const Rotation3<T>& M, double side, FreeTurn free,
                                           const Turn<double>& set) {
  EulerTurns<T> r;
  r.straight = square_root(M.z.x * M.z.x + M.z.y * M.z.y);
  r.b = middle_turn(axes, M.z.z, r.straight);
  r.b.s = T(side) * r.b.s;
  // M z = Rz(a) v.
  const Vector3<T> v = tilt(axes.c1, axes.s1, Vector3<T>{T(axes.s2) * r.b.s, T(-axes.s2) * r.b.c, T(axes.c2)});
  const auto in_line = r.straight < T(straight_sine);
  const Vector3<T> w = tilt(axes.c1, axes.s1, Vector3<T>{r.b.c, r.b.s, T(0.0)});  // Rx(first) Rz(b) x
  Turn<T> straight_a{T(set.c), T(set.s)};
  if (free == FreeTurn::last) {
    const Vector3<T> x = straight_a.c * M.x - straight_a.s * M.y;  // M Rz(-c) x = Rz(a) w
    straight_a = turn_between(w.x, w.y, x.x, x.y);
  }
  r.a = select_turn(in_line, straight_a, turn_between(v.x, v.y, M.z.x, M.z.y));
  // The last turn from the others, so that where these are ill defined the rotation is still right.
  const Vector3<T> x = spin(r.a, w);
  r.c = {dot(x, M.x), -dot(x, M.y)};
  const Vector3<T> away = spin(r.a, v) - M.z;
  const T length = r.c.c * r.c.c + r.c.s * r.c.s - T(1.0);
  r.miss = dot(away, away) + length * length;
  return r;
}

}  // namespace armwright
