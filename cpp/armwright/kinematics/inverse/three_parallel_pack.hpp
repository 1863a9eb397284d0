#pragma once

#include "armwright/kinematics/inverse/pack_answers.hpp"
#include "armwright/kinematics/inverse/three_parallel.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"

namespace armwright {

/// Both elbows behind one answer of the wrist, a pack of poses at once: branches `first` and `first + 4`. `sum`: joints 2, 3
/// and 4 together; (x, y): from axis 2 to axis 4; `within`: the other
/// joints are within their limits.
template <class T, class Out>
ARMWRIGHT_INLINE void elbows_of_pack(const ThreeParallelSetup& s, const ClosedJoint (&joint)[6], const Turn<T>& sum, T x, T y,
                                     typename T::Mask found, typename T::Mask within, std::size_t first, Out& out) {
  const TwoLinks<T> links = two_links(s.a2, s.a3, x * x + y * y);
  out.plain = out.plain | (found & links.spanned & links.doubtful);
  const TurnedAngle<T> a3 = turned_angle(links.turn), all = turned_angle(sum);
  for (std::size_t elbow = 0; elbow < 2; ++elbow) {
    const std::size_t b = first + 4 * elbow;
    const TurnedAngle<T> third = elbow == 0 ? a3 : -a3;
    const TurnedAngle<T> second = turned_angle(links.first(elbow == 0 ? links.fy : -links.fy, x, y));
    const auto fits = out.put(joint[1], second, {b}) & out.put(joint[2], third, {b}) & out.put(joint[3], all - second - third, {b});
    out.tell(b, found & links.spanned, within & fits);
  }
}

/// All answers of a pack of poses, for arms whose axes 5 and 6 meet and whose geometry is the closed form's within rounding.
/// The same formulas as solve_three_parallel(), with what branches share worked out once. `X` as there,
/// `Out` as for spherical_pack().
template <class T, class Out>
ARMWRIGHT_INLINE void three_parallel_pack(const ThreeParallelSetup& s, const ClosedJoint (&joint)[6], const Pose3<T>& X, Out& out) {
  const T worth(worth_polishing_exact * worth_polishing_exact), near(near_double), holds(holds_squared);
  const FirstTurn<T> first = first_turn_of(X.position, s.c2, s.s2, s.d + s.wrist.c1 * s.d5);
  out.plain = first.inside & first.doubtful;
  for (std::size_t side = 0; side < 2; ++side) {
    const Turn<T> t1 = first.turn(side == 0 ? first.gx : -first.gx, X.position);
    const Vector3<T> Mz = tilt(s.c2, -s.s2, spin_back(t1, X.rotation.z));
    Vector3<T> g = spin_back(t1, X.position);
    g.x = g.x - T(s.a1);
    const Vector3<T> u = tilt(s.c2, -s.s2, g);
    const auto within1 = out.put(joint[0], turned_angle(t1), {2 * side, 2 * side + 1, 2 * side + 4, 2 * side + 5});
    if (Out::within_only && !any(first.inside & within1)) continue;
    for (std::size_t other = 0; other < 2; ++other) {
      const std::size_t b = 2 * side + other;
      const FirstTwoTurns<T> w = first_two_turns(s.wrist, Mz, other == 0 ? 1 : -1);
      const Vector3<T> x = spin(t1, tilt(s.c2, s.s2, w.x));
      const Turn<T> last{dot(x, X.rotation.x), -dot(x, X.rotation.y)};
      const Vector3<T> k = spin(w.a, Vector3<T>{T(s.a4), T(-s.wrist.s1 * s.d5), T(s.wrist.c1 * s.d5)});
      const T along = u.z - k.z - T(s.d), length = last.c * last.c + last.s * last.s - T(1.0);
      const T miss = w.miss + length * length + along * along;
      const auto found = first.inside & (miss < holds);
      // With the outer axes in line exactly the first turn is not told at all, nor the misfit.
      out.plain = out.plain | (first.inside & ((w.straight < near) | ((miss < worth) & ((absolute(w.b.s) < near) | !(miss < holds)))));
      const auto within = within1 & out.put(joint[4], turned_angle(w.b), {b, b + 4}) & out.put(joint[5], turned_angle(last), {b, b + 4});
      if (Out::within_only && !any(found & within)) continue;
      elbows_of_pack(s, joint, w.a, u.x - k.x, u.y - k.y, found, within, b, out);
    }
  }
}

}  // namespace armwright
