#pragma once

#include <optional>
#include <span>

#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/kinematics/inverse/packs.hpp"

namespace armwright {

/// An arm whose redundant joints are held, ready for batches of targets. Constant after; shared by threads. Refers to both
/// that it was made from.
struct BatchArm {
  const ArmInverse& inverse;
  const HeldArm& held;
  bool held_within = true;            ///< the redundant joints are within their limits
  std::optional<PackSetup> packs;     ///< nothing where poses are solved one by one
};

/// Takes about a microsecond.
BatchArm batch_arm(const ArmInverse& inverse, const HeldArm& held);

/// All answers of `targets` (rows × 16, row-major 4×4, world), as solve_batch() of arm_inverse.hpp tells them. `with`: at most what
/// this machine has.
void solve_batch(const BatchArm& arm, bool within_limits, std::span<const double> targets, const BatchAnswers& to,
                 InstructionSet with = instruction_set());

}  // namespace armwright
