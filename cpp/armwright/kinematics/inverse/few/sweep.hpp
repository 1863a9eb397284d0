#pragma once

#include "armwright/kinematics/inverse/few/grouped.hpp"

namespace armwright {

/// Which joints may be swept so that candidates_by_groups() serves the rest: the first that turns, the last, or both. Where
/// the rest is singular for one of them it hardly is for the other.
struct SweptJoints {
  int count = 0;
  std::array<int, 2> joint{};
};
SweptJoints swept_joints(const AxisChain& chain);

/// Postures for a target of a chain with one group of parallel axes too many: that joint is swept over the turn in steps of
/// one degree, finer where the rest is nearly singular, the rest solved for each, and the postures that miss the pose least among their neighbours are candidates. Not
/// proven complete: two answers whose swept joints differ by less than about a degree may be taken for one.
void candidates_by_sweep(const AxisChain& chain, int swept, const Pose& target, Candidates& out);

}  // namespace armwright
