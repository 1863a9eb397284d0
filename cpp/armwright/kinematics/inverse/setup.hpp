#pragma once

#include <cstdint>

#include "armwright/kinematics/inverse/general.hpp"
#include "armwright/kinematics/inverse/six_chain.hpp"
#include "armwright/kinematics/inverse/spherical.hpp"
#include "armwright/kinematics/inverse/three_parallel.hpp"

namespace armwright {

/// Which closed form an arm's geometry allows.
enum class ArmFamily : std::uint8_t {
  spherical_wrist,        ///< axes 4, 5, 6 meet in a point
  spherical_shoulder,     ///< axes 1, 2, 3 meet in a point: the mirror case
  three_parallel,         ///< axes 2, 3, 4 parallel
  three_parallel_mirror,  ///< axes 3, 4, 5 parallel
  general,                ///< none of these: elimination, then polish
  few_joints              ///< not six revolute joints: see few_joints.hpp
};

/// What a family's method computes once per arm. Made by prepare_inverse(); constant after. Plain data; which of the
/// last three are filled in depends on `family` and `exact`.
struct InverseSetup {
  ArmFamily family = ArmFamily::general;
  SixChain chain;      ///< as given; answers are checked on it
  bool exact = false;  ///< the closed form's geometry is the chain's within rounding; otherwise every answer is polished
  SphericalSetup spherical{};
  ThreeParallelSetup parallel{};
  GeneralSetup general{};
};

inline bool is_mirrored(ArmFamily family) {
  return family == ArmFamily::spherical_shoulder || family == ArmFamily::three_parallel_mirror;
}
inline bool is_spherical(ArmFamily family) {
  return family == ArmFamily::spherical_wrist || family == ArmFamily::spherical_shoulder;
}

}  // namespace armwright
