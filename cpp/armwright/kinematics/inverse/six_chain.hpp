#pragma once

#include <array>

#include "armwright/model/model.hpp"

namespace armwright {

/// Six revolute joints in a row, cut out of a Model: what the inverse methods solve.
/// X_base,end(q) = base · S1(q1) ... S6(q6) · end, with Si as JointStep tells it (revolute); the offset `zero` is part
/// of the step. `base` is what stands still before the first joint, `end` goes from the last joint frame to the end
/// frame.
struct SixChain {
  Pose base = identity_pose;
  std::array<JointStep, 6> step{};
  Pose end = identity_pose;
};

/// The pose of the end frame in the chain's base frame. q: six values, rad.
Pose chain_end(const SixChain& chain, const double* q);

/// A line in the chain's base frame: a point on it and its unit direction.
struct AxisLine {
  Vec3 point, direction;
};

/// The six joint axes and the end pose, with the joints at q.
struct ChainPosture {
  std::array<AxisLine, 6> axis{};
  Pose end = identity_pose;
};
ChainPosture chain_posture(const SixChain& chain, const double* q);

/// The same arm walked from its end to its base: joint i of the result is joint 7-i of the given chain, with the
/// same joint values. Its end pose is the inverse of the given chain's. Serves the mirror cases of every method.
SixChain reversed(const SixChain& chain);

}  // namespace armwright
