#pragma once

#include <array>
#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// A joint axis in the world, all joints at zero.
struct JointAxis {
  Vec3 point, direction;  ///< direction of length 1
  JointKind kind;
};

/// The same chain of axes, told in joint steps.
struct ChainSteps {
  Pose base;                              ///< the frame before the first step, in the world
  std::array<JointStep, max_joints> step{};
  std::array<Pose, max_joints> frame{};   ///< joint frames in the world, all joints at zero
};

/// Finds joint frames for a row of axes, and the steps between them: z along the axis, x square to this axis and the
/// next, so that each step is Rx(alpha) and then Rz. See JointStep.
ChainSteps steps_along(std::span<const JointAxis> axes);

}  // namespace armwright
