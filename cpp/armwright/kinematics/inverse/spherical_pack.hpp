#pragma once

#include "armwright/kinematics/inverse/pack_answers.hpp"
#include "armwright/kinematics/inverse/spherical.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"

namespace armwright {

/// The wrist's two answers behind one way of the arm, a pack of poses at once: branches `first` and `first + 4`. `before`: the
/// target's rotation with joint 1 taken back; `both`: joints 2 and 3 together; `reached`: the arm gets there; `within`: within its limits.
template <class T, class Out>
ARMWRIGHT_INLINE void wrist_of_pack(const SphericalSetup& setup, const ClosedJoint (&joint)[6], const Rotation3<T>& before, const Turn<T>& both,
                                    typename T::Mask reached, typename T::Mask within, std::size_t first, Out& out) {
  const T worth(worth_polishing_exact * worth_polishing_exact), near(near_double), holds(holds_squared);
  const Rotation3<T> forearm = spread<T>(setup.forearm);
  const Vector3<T> Mz = transpose_times(forearm, spin_back(both, before.z));
  for (std::size_t back = 0; back < (setup.wrist.square ? 1 : 2); ++back) {
    const std::size_t b = first + 4 * back;
    const FirstTwoTurns<T> w = first_two_turns(setup.wrist, Mz, back == 0 ? 1 : -1);
    const Vector3<T> x = spin(both, forearm * w.x);
    const Turn<T> last{dot(x, before.x), -dot(x, before.y)};
    const T length = last.c * last.c + last.s * last.s - T(1.0);
    const T miss = w.miss + length * length;
    const auto found = reached & (miss < holds);
    // With the outer axes in line exactly the first turn is not told at all, nor the misfit.
    out.plain = out.plain | (reached & ((w.straight < near) | ((miss < worth) & ((absolute(w.b.s) < near) | !(miss < holds)))));
    const TurnedAngle<T> a4 = turned_angle(w.a), a5 = turned_angle(w.b), a6 = turned_angle(last);
    out.tell(b, found, within & out.put(joint[3], a4, {b}) & out.put(joint[4], a5, {b}) & out.put(joint[5], a6, {b}));
    if (!setup.wrist.square) continue;
    const std::size_t other = first + 4;  // the middle turn reversed, the outer ones half round
    const auto fits = out.put(joint[3], half_round_on(a4), {other}) & out.put(joint[4], -a5, {other}) & out.put(joint[5], half_round_on(a6), {other});
    out.tell(other, found, within & fits);
  }
}

/// All answers of a pack of poses, for arms whose axes 2 and 3 are parallel and whose geometry is the closed form's within
/// rounding (setup.exact). The same formulas as solve_spherical(), with what branches share worked out once. `X`: seen from
/// the closed form's frames, before · target · after. `Out`: PackAnswers, or PackTurns, which asks for answers within limits alone.
template <class T, class Out>
ARMWRIGHT_INLINE void spherical_pack(const SphericalSetup& setup, const ClosedJoint (&joint)[6], const Pose3<T>& X, Out& out) {
  const ThreeJoints& arm = setup.arm;
  const FirstTurn<T> first = first_turn_of(X.position, arm.c2, arm.s2, arm.d2);
  out.plain = first.inside & first.doubtful;
  for (std::size_t side = 0; side < 2; ++side) {
    const std::size_t b = 2 * side;
    const T sided = side == 0 ? first.gx : -first.gx;
    const Turn<T> t1 = first.turn(sided, X.position);
    const auto back = [&](const Vector3<T>& column) ARMWRIGHT_INLINE_LAMBDA { return tilt(arm.c2, -arm.s2, spin_back(t1, column)); };
    const Rotation3<T> before{back(X.rotation.x), back(X.rotation.y), back(X.rotation.z)};
    const auto within1 = out.put(joint[0], turned_angle(t1), {b, b + 1, b + 4, b + 5});
    if (Out::within_only && !any(first.inside & within1)) continue;
    const T ux = sided - T(arm.a1), uy = first.uy;
    const TwoLinks<T> links = two_links(arm.a2, arm.r, ux * ux + uy * uy);
    const auto reached = first.inside & links.spanned;
    out.plain = out.plain | (reached & links.doubtful);
    const TurnedAngle<T> a3 = turned_angle(links.turn);
    for (std::size_t elbow = 0; elbow < 2; ++elbow) {
      const T s3 = elbow == 0 ? links.turn.s : -links.turn.s;
      const Turn<T> t2 = links.first(elbow == 0 ? links.fy : -links.fy, ux, uy);
      const Turn<T> both{t2.c * links.turn.c - t2.s * s3, t2.s * links.turn.c + t2.c * s3};
      const auto within = within1 & out.put(joint[1], turned_angle(t2), {b + elbow, b + elbow + 4}) &
                          out.put(joint[2], elbow == 0 ? a3 : -a3, {b + elbow, b + elbow + 4});
      if (Out::within_only && !any(reached & within)) continue;
      wrist_of_pack(setup, joint, before, both, reached, within, b + elbow, out);
    }
  }
}

}  // namespace armwright
