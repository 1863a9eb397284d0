#pragma once

#include <optional>

#include "armwright/kinematics/inverse/branches.hpp"
#include "armwright/kinematics/inverse/euler.hpp"

namespace armwright {

/// An arm whose axes 2, 3 and 4 are parallel; axes 1, 5 and 6 stand anyhow (but not parallel to their neighbours).
/// With p a point on axis 6, seen from the closed form's frame on axis 1:
/// p = Rz(t1)[(a1,0,0) + Rx(alpha2) u],  u = Rz(t2)[(a2,0,0) + Rz(t3)[(a3,0,0) + Rz(t4) k]] + (0,0,d),
/// k = (a4,0,0) + Rx(alpha5)[(a5 cos t5, a5 sin t5, d5)].
struct ThreeParallelSetup {
  Pose before;      ///< the chain's base frame seen from the closed form's
  Pose after;       ///< the closed form's last frame, its origin on axis 6, seen from the end frame
  double a1, c2, s2, a2, a3, a4, a5, d, d5;
  EulerAxes wrist;  ///< t2 + t3 + t4, t5, t6
  bool crossing;    ///< axes 5 and 6 meet: a5 = 0, and t1 does not depend on t5
  JointAngles joints;
  double near_double = 0, near_axis = 0, worth_polishing = 0;  ///< see tolerances.hpp
};

/// Nothing if axes 2, 3, 4 are not parallel, or axis 1, 5 or 6 is parallel to its neighbour.
std::optional<ThreeParallelSetup> three_parallel_setup(const SixChain& chain);

/// The end pose by the closed form's own geometry: tells, against chain_end, how exact that is.
Pose three_parallel_end(const ThreeParallelSetup& setup, const double* q);

/// Up to eight answers (sixteen branches are tried where axes 5 and 6 do not meet). Order: side of axis 1, wrist,
/// elbow.
void solve_three_parallel(const ThreeParallelSetup& setup, const Pose& target, double free_value, Branches& out);

}  // namespace armwright
