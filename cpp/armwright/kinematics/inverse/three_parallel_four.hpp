#pragma once

#include "armwright/kinematics/inverse/four_answers.hpp"
#include "armwright/kinematics/inverse/three_joints.hpp"
#include "armwright/kinematics/inverse/three_parallel.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"

namespace armwright {

/// Both elbows behind one answer of the wrist, four poses at once: branches `first` and `first + 4`.
ARMWRIGHT_INLINE void elbows_of_four(const ThreeParallelSetup& s, const FirstTwoTurns<Lanes>& w, const Turn<Lanes>& last,
                                     Lanes x, Lanes y, Mask found, Lanes a1, std::size_t first, FourAnswers& out) {
  const double longest = s.a2 + s.a3, shortest = std::fabs(s.a2 - s.a3);
  const Lanes square = x * x + y * y, length = square_root(square);
  const Mask spanned = (length - Lanes(longest) < Lanes(beyond_reach)) & (Lanes(shortest) - length < Lanes(beyond_reach));
  const Turn<Lanes> t3 = elbow_turn(s.a2, s.a3, square);
  out.plain = out.plain | (found & spanned & ((t3.s < Lanes(near_double)) | (length < Lanes(free_radius))));
  const Lanes a3 = arc_tangent(t3), sum = arc_tangent(w.a), a5 = arc_tangent(w.b), a6 = arc_tangent(last);
  const Lanes fx = Lanes(s.a2) + Lanes(s.a3) * t3.c, fy = Lanes(s.a3) * t3.s;
  for (std::size_t elbow = 0; elbow < 2; ++elbow) {
    const Lanes way = elbow == 0 ? fy : -fy, third = elbow == 0 ? a3 : -a3;
    const Lanes second = arc_tangent(fx * y - way * x, fx * x + way * y);
    Lanes(&angle)[6] = out.angle[first + 4 * elbow];
    angle[0] = a1;
    angle[1] = second;
    angle[2] = third;
    angle[3] = sum - second - third;
    angle[4] = a5;
    angle[5] = a6;
    out.found[first + 4 * elbow] = found & spanned;
  }
}

/// All answers of four poses, for arms whose axes 5 and 6 meet and whose geometry is the closed form's within rounding. The
/// same formulas as solve_three_parallel(), with what branches share worked out once. `X` as there.
ARMWRIGHT_INLINE void three_parallel_four(const ThreeParallelSetup& s, const Pose3<Lanes>& X, FourAnswers& out) {
  const Lanes worth(worth_polishing_exact * worth_polishing_exact), near(near_double), holds(holds_squared);
  const FirstTurn first = first_turn_of(X.position, s.c2, s.s2, s.d + s.wrist.c1 * s.d5);
  out.plain = first.inside & first.doubtful;
  for (std::size_t side = 0; side < 2; ++side) {
    const Turn<Lanes> t1 = first.turn(side == 0 ? first.gx : -first.gx, X.position);
    const Vector3<Lanes> Mz = tilt(s.c2, -s.s2, spin_back(t1, X.rotation.z));
    Vector3<Lanes> g = spin_back(t1, X.position);
    g.x = g.x - Lanes(s.a1);
    const Vector3<Lanes> u = tilt(s.c2, -s.s2, g);
    const Lanes a1 = arc_tangent(t1);
    for (std::size_t other = 0; other < 2; ++other) {
      const FirstTwoTurns<Lanes> w = first_two_turns(s.wrist, Mz, other == 0 ? 1 : -1);
      const Vector3<Lanes> x = spin(t1, tilt(s.c2, s.s2, w.x));
      const Turn<Lanes> last{dot(x, X.rotation.x), -dot(x, X.rotation.y)};
      const Vector3<Lanes> k = spin(w.a, Vector3<Lanes>{Lanes(s.a4), Lanes(-s.wrist.s1 * s.d5), Lanes(s.wrist.c1 * s.d5)});
      const Lanes along = u.z - k.z - Lanes(s.d), length = last.c * last.c + last.s * last.s - Lanes(1.0);
      const Lanes miss = w.miss + length * length + along * along;
      const Mask found = first.inside & (miss < holds);
      out.plain = out.plain | (first.inside & (miss < worth) & ((absolute(w.b.s) < near) | (w.straight < near) | !(miss < holds)));
      elbows_of_four(s, w, last, u.x - k.x, u.y - k.y, found, a1, 2 * side + other, out);
    }
  }
}

}  // namespace armwright
