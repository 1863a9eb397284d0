#pragma once

#include "armwright/kinematics/inverse/pack_answers.hpp"
#include "armwright/kinematics/on_the_limit.hpp"

namespace armwright {

/// Sine and cosine of a length of one, from a turn whose length is one within 1e-8.
template <class T>
ARMWRIGHT_INLINE Turn<T> unit_turn(const Turn<T>& turn) {
  const T scale = T(1.5) - T(0.5) * (turn.c * turn.c + turn.s * turn.s);
  return {scale * turn.c, scale * turn.s};
}

/// The branches of as many poses at once as T has lanes, as PackAnswers tells them, but only those within the joint limits, and
/// of these the turns of the joints' steps instead of their angles: what frames are made of. `plain` need not tell of a pose all of
/// whose doubtful branches are outside the limits.
template <class T>
struct PackTurns {
  using Lane = typename T::Mask;
  static constexpr std::size_t branches = 8;
  static constexpr bool within_only = true;
  Turn<T> turn[branches][6];  ///< in the order of the arm's joints
  Lane found[branches];
  Lane plain;

  ARMWRIGHT_INLINE PackTurns() {
    for (Lane& each : found) each = T(0.0) < T(0.0);
  }

  /// Within its limits is what limit_margin() counts so. Told by the cosine of the way from the middle of the range, but for what is so
  /// near an end that only the angle tells.
  ARMWRIGHT_INLINE Lane put(const ClosedJoint& joint, const TurnedAngle<T>& turned, std::initializer_list<std::size_t> same) {
    constexpr double near_end = 1e-8;  // of a cosine; more than on_the_limit and rounding make up
    const Turn<T> t = unit_turn(turned.turn);
    const T s = T(joint.sign) * t.s;
    const Turn<T> told{t.c * T(joint.step_c) - s * T(joint.step_s), s * T(joint.step_c) + t.c * T(joint.step_s)};
    for (const std::size_t b : same) turn[b][joint.at] = told;
    if (joint.least_cosine == -1) return T(0.0) <= T(0.0);
    const T over = told.c * T(joint.middle_c) + told.s * T(joint.middle_s) - T(joint.least_cosine);
    if (!any(absolute(over) < T(near_end))) return over > T(0.0);
    const T r = value_of(joint, angle_of_unit(t)), inside = minimum(r - T(joint.lower), T(joint.upper) - r);
    return inside >= T(-on_the_limit * 0.5 * (joint.upper - joint.lower));
  }

  ARMWRIGHT_INLINE void tell(std::size_t branch, Lane found_here, Lane within) { found[branch] = found_here & within; }
};

}  // namespace armwright
