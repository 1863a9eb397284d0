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
  T margin[branches];         ///< see limit_margin()
  Lane found[branches];
  Lane plain, held_within;

  /// `held`: the margin of the joints that are held.
  ARMWRIGHT_INLINE explicit PackTurns(const T& held) {
    for (T& each : margin) each = held;
    for (Lane& each : found) each = held < held;
    held_within = held >= T(-on_the_limit);
  }

  ARMWRIGHT_INLINE Lane put(const ClosedJoint& joint, const TurnedAngle<T>& turned, std::initializer_list<std::size_t> same) {
    const Turn<T> t = unit_turn(turned.turn);
    const T s = T(joint.sign) * t.s;
    const Turn<T> told{t.c * T(joint.step_c) - s * T(joint.step_s), s * T(joint.step_c) + t.c * T(joint.step_s)};
    for (const std::size_t b : same) turn[b][joint.at] = told;
    if (joint.per_half == 0) return T(0.0) <= T(0.0);
    const T r = value_of(joint, turned.angle);
    const T own = minimum(r - T(joint.lower), T(joint.upper) - r) * T(joint.per_half);
    for (const std::size_t b : same) margin[b] = minimum(own, margin[b]);
    return own >= T(-on_the_limit);
  }

  ARMWRIGHT_INLINE void tell(std::size_t branch, Lane found_here, Lane within) { found[branch] = found_here & within & held_within; }
};

}  // namespace armwright
