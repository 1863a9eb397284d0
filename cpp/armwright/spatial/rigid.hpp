#pragma once

#include <span>

#include "armwright/support/lanes.hpp"

namespace armwright {

/// Whether all poses of a batch (rows × 16, row-major 4×4) are rigid: a last row of 0, 0, 0, 1, and a right-handed
/// rotation R with no entry of RᵀR - 1 beyond `tolerance`. False where a number is none.
bool all_rigid(std::span<const double> poses, double tolerance);

}  // namespace armwright
