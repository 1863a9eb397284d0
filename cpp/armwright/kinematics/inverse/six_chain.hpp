#pragma once

#include <array>

#include "armwright/model/model.hpp"

namespace armwright {

/// Six revolute joints in a row, cut out of a Model: what the inverse methods solve. The chain's base frame is the
/// frame before its first step; its end frame is the frame of the last joint, turned and moved by `end`.
/// X_base,end(theta) = S1(theta1) ... S6(theta6) · end, with Si as JointStep tells it (revolute).
/// Angles here are joint values q; the offset `zero` is part of the step.
struct SixChain {
  std::array<JointStep, 6> step{};
  Pose end = identity_pose;
};

/// The pose of the end frame in the chain's base frame.
Pose chain_end(const SixChain& chain, const double* q);

/// The same arm walked from its end to its base: joint i of the result is joint 7-i of the given chain, with the
/// same joint values. Its end pose is the inverse of the given chain's. Serves the mirror cases of every method.
SixChain reversed(const SixChain& chain);

}  // namespace armwright
