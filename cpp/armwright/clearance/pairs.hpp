#pragma once

#include "armwright/clearance/shape.hpp"

namespace armwright {

/// Signed least distance of two solids with the nearest points in the world. Distances above `cutoff` need not be
/// exact: any value of at least `cutoff` may come back for them, with points that mean nothing.
Separation separation(const Shape& a, const Pose& X_WA, const Shape& b, const Pose& X_WB, double cutoff);

}  // namespace armwright
