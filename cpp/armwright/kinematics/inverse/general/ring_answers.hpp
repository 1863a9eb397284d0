#pragma once

#include <array>

#include "armwright/kinematics/inverse/general/loop.hpp"
#include "armwright/kinematics/inverse/general/resultant.hpp"

namespace armwright {

/// Completes an answer of the ring: angles of roles 2, 3, 4 (c, d, e) are given; a from the six equations that are
/// linear in (cos a, sin a), b from the turn between the two sides, f from what remains. In place: angle[role], rad (or
/// unit lengths).
/// `lost` is set if a or b is not determined, as where axes of the ring fall into one line.
/// Returns how far the closure is missed (unit lengths and rad, roughly).
double complete_ring(const Loop& labelled, const RightSide& right, std::array<double, 6>& angle, bool& lost);

}  // namespace armwright
