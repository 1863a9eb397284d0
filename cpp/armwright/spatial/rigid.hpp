#pragma once

#include <limits>
#include <span>

#include "armwright/support/lanes.hpp"

namespace armwright {

/// Whether all poses of a batch (rows × 16, row-major 4×4) are rigid: a last row of 0, 0, 0, 1, and a right-handed
/// rotation R with no entry of RᵀR - 1 beyond `tolerance`, and a position with no number beyond `farthest`. False where a number
/// is none.
bool all_rigid(std::span<const double> poses, double tolerance, double farthest = std::numeric_limits<double>::max());

}  // namespace armwright
