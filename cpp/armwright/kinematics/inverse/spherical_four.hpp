#pragma once

#include "armwright/kinematics/inverse/four_answers.hpp"
#include "armwright/kinematics/inverse/spherical.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"

namespace armwright {

/// The wrist's two answers behind one way of the arm, four poses at once: branches `first` and `first + 4`. `before`: the
/// target's rotation with joint 1 taken back; `both`: joints 2 and 3 together; `reached`: the arm gets there.
ARMWRIGHT_INLINE void wrist_of_four(const SphericalSetup& setup, const Rotation3<Lanes>& before, const Turn<Lanes>& both, Mask reached,
                                    std::size_t first, FourAnswers& out) {
  const Lanes worth(worth_polishing_exact * worth_polishing_exact), near(near_double);
  const Rotation3<Lanes> forearm = spread<Lanes>(setup.forearm);
  const Vector3<Lanes> Mz = transpose_times(forearm, spin_back(both, before.z));
  for (std::size_t back = 0; back < (setup.wrist.square ? 1 : 2); ++back) {
    const std::size_t b = first + 4 * back;
    const FirstTwoTurns<Lanes> w = first_two_turns(setup.wrist, Mz, back == 0 ? 1 : -1);
    const Vector3<Lanes> x = spin(both, forearm * w.x);
    const Lanes c = dot(x, before.x), s = -dot(x, before.y), length = c * c + s * s - Lanes(1.0);
    const Lanes miss = w.miss + length * length;
    out.angle[b][3] = arc_tangent(w.a);
    out.angle[b][4] = arc_tangent(w.b);
    out.angle[b][5] = arc_tangent(s, c);
    out.found[b] = reached & (miss < Lanes(holds_squared));
    out.plain = out.plain | (reached & (miss < worth) & ((absolute(w.b.s) < near) | (w.straight < near) | !(miss < Lanes(holds_squared))));
  }
  if (setup.wrist.square) {  // middle turn reversed, outer ones half round
    out.angle[first + 4][3] = turned_half(out.angle[first][3]);
    out.angle[first + 4][4] = -out.angle[first][4];
    out.angle[first + 4][5] = turned_half(out.angle[first][5]);
    out.found[first + 4] = out.found[first];
  }
}

/// All answers of four poses, for arms whose axes 2 and 3 are parallel and whose geometry is the closed form's within
/// rounding (setup.exact). The same formulas as solve_spherical(), with what branches share worked out once. `X`: seen from
/// the closed form's frames, before · target · after.
ARMWRIGHT_INLINE void spherical_four(const SphericalSetup& setup, const Pose3<Lanes>& X, FourAnswers& out) {
  const ThreeJoints& arm = setup.arm;
  const FirstTurn first = first_turn_of(X.position, arm.c2, arm.s2, arm.d2);
  out.plain = first.inside & first.doubtful;
  const double longest = arm.a2 + arm.r, shortest = std::fabs(arm.a2 - arm.r);
  for (std::size_t side = 0; side < 2; ++side) {
    const Lanes sided = side == 0 ? first.gx : -first.gx;
    const Turn<Lanes> t1 = first.turn(sided, X.position);
    const auto back = [&](const Vector3<Lanes>& column) ARMWRIGHT_INLINE_LAMBDA { return tilt(arm.c2, -arm.s2, spin_back(t1, column)); };
    const Rotation3<Lanes> before{back(X.rotation.x), back(X.rotation.y), back(X.rotation.z)};
    const Lanes a1 = arc_tangent(t1);
    const Lanes ux = sided - Lanes(arm.a1), uy = first.uy, uu = ux * ux + uy * uy, length = square_root(uu);
    const Mask spanned = first.inside & (length - Lanes(longest) < Lanes(beyond_reach)) & (Lanes(shortest) - length < Lanes(beyond_reach));
    const Turn<Lanes> t3 = elbow_turn(arm.a2, arm.r, uu);
    out.plain = out.plain | (spanned & ((t3.s < Lanes(near_double)) | (length < Lanes(free_radius))));
    const Lanes a3 = arc_tangent(t3), scale = Lanes(1.0) / maximum(uu, Lanes(1e-300));
    const Lanes fx = Lanes(arm.a2) + Lanes(arm.r) * t3.c, fy = Lanes(arm.r) * t3.s;
    for (std::size_t elbow = 0; elbow < 2; ++elbow) {
      const Lanes way = elbow == 0 ? fy : -fy, s3 = elbow == 0 ? t3.s : -t3.s;
      const Turn<Lanes> t2{scale * (fx * ux + way * uy), scale * (fx * uy - way * ux)};
      const Turn<Lanes> both{t2.c * t3.c - t2.s * s3, t2.s * t3.c + t2.c * s3};
      const std::size_t b = 2 * side + elbow;
      const Lanes a2 = arc_tangent(t2);
      for (const std::size_t each : {b, b + 4}) {
        out.angle[each][0] = a1;
        out.angle[each][1] = a2;
        out.angle[each][2] = elbow == 0 ? a3 : -a3;
      }
      wrist_of_four(setup, before, both, spanned, b, out);
    }
  }
}

}  // namespace armwright
