#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <initializer_list>

#include "armwright/kinematics/inverse/arc_tangent.hpp"
#include "armwright/kinematics/inverse/three_joints.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"
#include "armwright/spatial/pose.hpp"
#include "armwright/support/lanes.hpp"
#include "armwright/support/sin_cos.hpp"

namespace armwright {

/// A joint of a closed form as the arm has it: the value is sign · angle - shift, by whole turns next to `middle`.
struct ClosedJoint {
  double sign, shift, middle, lower, upper;  ///< rad; the range is finite on both sides or on none
  std::size_t at;                            ///< which of the arm's six joints it is
  double step_c, step_s;                     ///< of what its step turns by (JointStep) where sign · angle is 0
  double middle_c, middle_s;                 ///< and where it stands in the middle of its range
  double least_cosine;                       ///< of the angle from there to the ends; -1 where every angle is within
};

/// A joint's angle in a closed form, rad, and its turn, of length one within 1e-8. Who asks for one of them alone pays for that alone.
template <class T>
struct TurnedAngle {
  T angle;
  Turn<T> turn;
  ARMWRIGHT_INLINE friend TurnedAngle operator-(const TurnedAngle& a) { return {-a.angle, {a.turn.c, -a.turn.s}}; }
  ARMWRIGHT_INLINE friend TurnedAngle operator-(const TurnedAngle& a, const TurnedAngle& b) {
    return {a.angle - b.angle, {a.turn.c * b.turn.c + a.turn.s * b.turn.s, a.turn.s * b.turn.c - a.turn.c * b.turn.s}};
  }
};
template <class T>
ARMWRIGHT_INLINE TurnedAngle<T> turned_angle(const Turn<T>& turn) { return {angle_of_unit(turn), turn}; }
inline constexpr double half_round = 3.14159265358979323846;
template <class T>
ARMWRIGHT_INLINE TurnedAngle<T> half_round_on(const TurnedAngle<T>& a) { return {a.angle + T(half_round), {-a.turn.c, -a.turn.s}}; }

/// A joint's value: by whole turns next to the middle of its range.
template <class T>
ARMWRIGHT_INLINE T value_of(const ClosedJoint& joint, T angle) {
  constexpr double turn = 6.283185307179586476925;
  const T value = T(joint.sign) * angle - T(joint.shift);
  return value - T(turn) * detail::nearest((value - T(joint.middle)) * T(1 / turn));
}

/// The branches of as many poses at once as T has lanes, pose k in lane k; in the order in which solve_six() gives answers.
template <class T>
struct PackAnswers {
  using Lane = typename T::Mask;
  static constexpr std::size_t branches = 8;
  static constexpr bool within_only = false;
  T q[branches][6];  ///< in the order of the arm's joints, rad; within their ranges where whole turns allow
  Lane plain;        ///< poses that are to be solved one by one: near a double answer, with a joint free to turn, at the end of
                     ///< the reach, or that a branch misses by more than rounding
  T marks{0.0};      ///< branches that are answers of the pose (bits 0 to 7 of the whole number), and those within limits (8 to 15)

  /// A joint's angle, the same in those branches. Returns whether it is within its limits; a posture at a limit is: see
  /// whole() of arm_inverse.cpp.
  ARMWRIGHT_INLINE Lane put(const ClosedJoint& joint, const TurnedAngle<T>& turned, std::initializer_list<std::size_t> same) {
    constexpr double rounding = 1e-11;  // rad
    const T r = value_of(joint, turned.angle);
    const T inside = minimum(maximum(r, T(joint.lower)), T(joint.upper));
    const Lane fits = absolute(r - inside) < T(rounding);
    const T told = select(fits, inside, r);
    for (const std::size_t b : same) q[b][joint.at] = told;
    return fits;
  }

  /// Of which poses a branch is an answer, and where all its joints are within their limits.
  ARMWRIGHT_INLINE void tell(std::size_t branch, Lane found, Lane within) {
    marks += select(found, T(1 << branch), T(0.0)) + select(found & within, T(256 << branch), T(0.0));
  }
};

inline constexpr double beyond_reach = 2e-7;    ///< m: above worth_polishing_exact, below which a misfit may be polished away
inline constexpr double holds_squared = 1e-20;  ///< m², rad²: what an answer may miss its pose by, squared, without a step of Newton's

/// Joint 1 of an arm on which what lies along axis 2 does not depend on the joints beyond: that tells g_y, and the distance
/// from axis 1 then g_x, but for its sign.
template <class T>
struct FirstTurn {
  T uy, gy, gx, scale;
  typename T::Mask inside;    ///< not beyond reach
  typename T::Mask doubtful;  ///< both signs are one answer, or the point is on axis 1

  ARMWRIGHT_INLINE Turn<T> turn(T sided, const Vector3<T>& p) const {
    return {scale * (sided * p.x + gy * p.y), scale * (sided * p.y - gy * p.x)};
  }
};
template <class T>
ARMWRIGHT_INLINE FirstTurn<T> first_turn_of(const Vector3<T>& p, double c2, double s2, double along) {
  FirstTurn<T> r;
  r.uy = (p.z - T(c2 * along)) * T(1 / s2);
  r.gy = T(c2) * r.uy - T(s2 * along);
  const T square = p.x * p.x + p.y * p.y, left = square - r.gy * r.gy, above = absolute(r.gy) - T(beyond_reach);
  r.gx = square_root(maximum(left, T(0.0)));
  r.scale = T(1.0) / maximum(square, T(1e-300));
  r.inside = (above < T(0.0)) | (above * above < square);
  r.doubtful = (left <= T(near_double * near_double) * square) | (square < T(free_radius * free_radius));
  return r;
}

/// Two links in a plane over the squared distance `square`: the turn of the second, its sine >= 0, and what tells that of the
/// first, the whole way of both links.
template <class T>
struct TwoLinks {
  Turn<T> turn;
  T fx, fy, scale;              ///< along and across the first link; one by the squared distance
  typename T::Mask spanned;   ///< not beyond reach
  typename T::Mask doubtful;  ///< stretched, folded, or the ends so close together that rounding tells the first link's turn

  /// The first link's turn, with the second's sine as it is (way = fy) or reversed (way = -fy), towards (x, y).
  ARMWRIGHT_INLINE Turn<T> first(T way, T x, T y) const { return {scale * (fx * x + way * y), scale * (fx * y - way * x)}; }
};
template <class T>
ARMWRIGHT_INLINE TwoLinks<T> two_links(double first, double second, T square) {
  constexpr double close = 1e-3;  // of both links together
  const double longest = first + second, shortest = std::fabs(first - second);
  const double farthest = longest + beyond_reach, nearest = shortest - beyond_reach, one = 1 / (4 * first * second);
  TwoLinks<T> r;
  const T n = T(longest * longest) - square, m = square - T(shortest * shortest);  // together 4 · first · second
  r.turn = {(m - n) * T(one), T(2 * one) * square_root(maximum(n * m, T(0.0)))};
  r.fx = T(first) + T(second) * r.turn.c;
  r.fy = T(second) * r.turn.s;
  r.scale = T(1.0) / maximum(square, T(1e-300));
  r.spanned = (square < T(farthest * farthest)) & (square > T(nearest > 0 ? nearest * nearest : -1.0));
  r.doubtful = (r.turn.s < T(near_double)) | (square < T(close * close * longest * longest));
  return r;
}

}  // namespace armwright
