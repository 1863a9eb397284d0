#pragma once

#include <Eigen/Core>

#include "armwright/limits/speed_payload.hpp"

namespace armwright {

using JointMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, max_joints, max_joints>;
using JointMap = Eigen::Matrix<double, Eigen::Dynamic, 3, 0, max_joints, 3>;

/// Joint accelerations for a unit acceleration of the tool point along each world axis (rad/m, m/m), and for a unit
/// turning acceleration about each: X in moving_payload(). Rows of joints that cannot move are 0.
struct ToolWays {
  bool singular = false;
  JointMap along, about;
};

/// `moving`: the joints that accelerate the tool, one of the setup's shares; `inertia`: joint-space inertia with rotors, without load.
ToolWays tool_ways(const MovingSetup& setup, const std::vector<std::size_t>& moving, const Pose* frames, const JointMatrix& inertia);

/// Number of the tool point's directions, and of all tool freedoms, that the joints `moving` give in general: the greatest rank over
/// some postures spread over their ranges.
struct ToolFreedoms {
  std::size_t translations, all;
};
ToolFreedoms tool_freedoms(const Model& model, const std::vector<std::size_t>& moving);

}  // namespace armwright
