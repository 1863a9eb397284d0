#pragma once

#include "armwright/kinematics/inverse/few/axis_chain.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

/// Fits a posture to the pose and adds it, unless it does not get there or is there already. Where a joint may move
/// without moving the end, the joint that moves most is named and walked to `free_value` as far as the others follow, so
/// that answers on one curve become one.
void add_fitted(const AxisChain& chain, const Pose& target, double free_value, JointValues q, Solutions& out);

}  // namespace armwright
