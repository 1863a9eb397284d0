#pragma once

#include "armwright/kinematics/inverse/six_chain.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

/// Which closed form an arm's geometry allows.
enum class ArmFamily : std::uint8_t {
  spherical_wrist,        ///< axes 4, 5, 6 meet in a point
  spherical_shoulder,     ///< axes 1, 2, 3 meet in a point: the mirror case
  three_parallel,         ///< axes 2, 3, 4 parallel
  three_parallel_mirror,  ///< axes 3, 4, 5 parallel
  general                 ///< none of these: elimination, then polish
};

/// What a family's method computes once per arm. Made by prepare_inverse(); constant after.
struct InverseSetup;  // defined in setup.hpp

/// Axes count as meeting, or parallel, when the misfit is below these; the pose error this leaves is removed by a
/// polishing step on the exact chain.
inline constexpr double meeting_tolerance = 1e-7;   ///< m
inline constexpr double parallel_tolerance = 1e-7;  ///< rad

InverseSetup prepare_inverse(const SixChain& chain);
ArmFamily family_of(const InverseSetup& setup);

/// All joint vectors (up to whole turns) that bring the end frame to `target` (in the chain's base frame). Every
/// answer reproduces the pose within 1e-9 m and 1e-9 rad, or is left out. Answers closer than 1e-6 rad to one
/// another count as one. Order: the same for the same arm and neighbouring poses, as far as branches persist.
void solve_six(const InverseSetup& setup, const Pose& target, Solutions& out);

}  // namespace armwright
