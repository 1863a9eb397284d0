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

/// A tool attitude as a closed form sees it, with the tool anywhere: the pose X with the tool point at p (world, m) has this
/// rotation, and its origin at offset + turn · p.
struct SeenAttitude {
  Rotation rotation;
  Vec3 offset;
  Rotation turn;

  Pose with_tool_at(const Vec3& p) const { return {rotation, offset + turn * p}; }
};
SeenAttitude seen_attitude(const PackSetup& packs, const Rotation& attitude);

/// Answers within the limits of poses that are told as TurnBatch has them, for an arm that has `packs`. There is to be room for
/// pack_branches times as many rows as poses, and a pack more.
void find_turns(const BatchArm& arm, std::span<const double> seen, FoundTurns& to, InstructionSet with = instruction_set());

}  // namespace armwright
