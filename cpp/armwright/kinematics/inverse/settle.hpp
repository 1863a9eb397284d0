#pragma once

#include "armwright/kinematics/inverse/setup.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

/// The branches of the arm's closed form for a target of the given chain.
void closed_branches(const InverseSetup& setup, const Pose& target, double free_value, Branches& out);

/// Checks the branches and adds those that hold: as they are where the closed form is exact and its misfit below
/// 1e-10, otherwise after they have been brought to fit the exact chain, where they are near enough for that.
/// Returns whether the pose stands near a double answer.
bool settle(const InverseSetup& setup, const Pose& target, double free_value, Branches& branches, Solutions& out);

}  // namespace armwright
