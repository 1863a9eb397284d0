#pragma once

#include "armwright/kinematics/inverse/setup.hpp"
#include "armwright/kinematics/inverse/six_chain.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

/// Finds the family from the geometry and computes what does not depend on the target. The chain is taken as given:
/// six revolute joints, finite numbers.
InverseSetup prepare_inverse(const SixChain& chain);

/// All joint vectors (up to whole turns) that bring the end frame to `target` (in the chain's base frame). Every
/// answer reproduces the pose within 1e-9 m and 1e-9 rad, or is left out. Answers closer than 1e-6 rad to one
/// another count as one. Order: the same for the same arm and neighbouring poses, as far as branches persist.
///
/// Degenerate poses, where a joint may turn without moving the end frame (for the wrist: axes 4 and 6 in line), give
/// a representative: the free joint, named in the answer, stands at `free_value` (rad), or at the nearest value that
/// the other joints allow (to 5 degrees, where that is a matter of the attitude).
///
/// Spherical and three-parallel arms have at most 8 answers, general ones at most 16. A rotation that is not quite
/// square is taken for the nearest that is.
void solve_six(const InverseSetup& setup, const Pose& target, Solutions& out, double free_value = 0);

}  // namespace armwright
