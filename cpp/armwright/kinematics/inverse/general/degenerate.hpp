#pragma once

#include "armwright/kinematics/inverse/six_chain.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

/// Goes through answers that may be degenerate, and
/// - where a whole curve of postures holds the pose, names the joint that moves most along it (the first of equals) as
///   free and walks along the curve until that joint stands at `free_value` (rad or m), or as near as the others
///   allow, so that answers on one curve become one;
/// - makes one of answers between which every posture holds the pose too, within the accepted error (both are then
///   approximations of one answer on a singularity).
/// `size`: of the arm, m; weighs turning against shifting. `held`: joints that stand still (a bit each).
void settle_degenerate(const SixChain& chain, double size, const Pose& target, double free_value, Solutions& out,
                       unsigned held = 0);

}  // namespace armwright
