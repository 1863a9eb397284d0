#pragma once

#include <cstddef>

#include "armwright/kinematics/inverse/branches.hpp"
#include "armwright/kinematics/inverse/three_joints.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"
#include "armwright/spatial/pose.hpp"
#include "armwright/support/lanes.hpp"

namespace armwright {

/// The branches of four poses at once, pose k in lane k; in the order in which solve_six() gives answers.
struct FourAnswers {
  static constexpr std::size_t branches = 8;
  Lanes angle[branches][6];  ///< of the closed form, rad, whole turns as they come
  Mask found[branches];      ///< the branch is an answer of that pose
  Mask plain;                ///< poses that are to be solved one by one: near a double answer, with a joint free to turn,
                             ///< at the end of the reach, or that a branch misses by more than rounding
};

inline constexpr double beyond_reach = 2e-7;       ///< m: above worth_polishing_exact, below which a misfit may be polished away
inline constexpr double holds_squared = 1e-20;  ///< m², rad²: what an answer may miss its pose by, squared, without a step of Newton's

ARMWRIGHT_INLINE Lanes turned_half(Lanes angle) { return angle + Lanes(3.14159265358979323846); }

/// Joint 1 of an arm on which what lies along axis 2 does not depend on the joints beyond: that tells g_y, and the distance
/// from axis 1 then g_x, but for its sign.
struct FirstTurn {
  Lanes uy, gy, gx, scale;
  Mask inside;    ///< not beyond reach
  Mask doubtful;  ///< both signs are one answer, or the point is on axis 1

  ARMWRIGHT_INLINE Turn<Lanes> turn(Lanes sided, const Vector3<Lanes>& p) const {
    return {scale * (sided * p.x + gy * p.y), scale * (sided * p.y - gy * p.x)};
  }
};
ARMWRIGHT_INLINE FirstTurn first_turn_of(const Vector3<Lanes>& p, double c2, double s2, double along) {
  FirstTurn r;
  r.uy = (p.z - Lanes(c2 * along)) * Lanes(1 / s2);
  r.gy = Lanes(c2) * r.uy - Lanes(s2 * along);
  const Lanes square = p.x * p.x + p.y * p.y, radius = square_root(square);
  r.gx = square_root(maximum((radius - r.gy) * (radius + r.gy), Lanes(0.0)));
  r.scale = Lanes(1.0) / maximum(square, Lanes(1e-300));
  r.inside = absolute(r.gy) - radius < Lanes(beyond_reach);
  r.doubtful = (r.gx <= Lanes(near_double) * radius) | (radius < Lanes(free_radius));
  return r;
}

}  // namespace armwright
