#pragma once

#include <cstdint>

#include "armwright/kinematics/inverse/six_chain.hpp"

namespace armwright {

/// Which closed form an arm's geometry allows.
enum class ArmFamily : std::uint8_t {
  spherical_wrist,        ///< axes 4, 5, 6 meet in a point
  spherical_shoulder,     ///< axes 1, 2, 3 meet in a point: the mirror case
  three_parallel,         ///< axes 2, 3, 4 parallel
  three_parallel_mirror,  ///< axes 3, 4, 5 parallel
  general                 ///< none of these: elimination, then polish
};

/// Axes count as meeting, or parallel, when the misfit is below these; the pose error this leaves is removed by a
/// polishing step on the exact chain.
inline constexpr double meeting_tolerance = 1e-7;   ///< m
inline constexpr double parallel_tolerance = 1e-7;  ///< rad

/// What a family's method computes once per arm. Made by prepare_inverse(); constant after. Plain data.
struct InverseSetup {
  ArmFamily family = ArmFamily::general;
  SixChain chain;  ///< as given; answers are checked on it
};

}  // namespace armwright
