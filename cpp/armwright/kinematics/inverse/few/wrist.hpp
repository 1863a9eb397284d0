#pragma once

#include <optional>

#include "armwright/kinematics/inverse/few/axis_chain.hpp"

namespace armwright {

/// Six joints, the last three turning about axes that meet: the first three, at least one of which slides, place the point
/// where they do.
struct SlidingWrist {
  AxisChain chain;
  Vec3 centre{};  ///< at zero
};

/// Nothing if the last three axes do not meet, no joint before them slides, or those three cannot move the point about in space.
std::optional<SlidingWrist> sliding_wrist(const AxisChain& chain);

/// All postures for a target, complete: slides and turns of the first three joints from a linear equation or a trigonometric
/// polynomial of degree 3; then two wrists each. Where the wrist stands in line its first joint stands at `free_value`.
void candidates_by_wrist(const SlidingWrist& wrist, const Pose& target, double free_value, Candidates& out);

}  // namespace armwright
