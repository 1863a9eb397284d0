#pragma once

#include <vector>

#include "armwright/spatial/vector3.hpp"

namespace armwright {

/// Those of the points that are corners of their convex hull; the others lie within it, to 1e-11 of its size. Should
/// rounding get in the way, or nearly all of very many points be corners, all come back: the hull is the same.
std::vector<Vec3> hull_corners(const std::vector<Vec3>& points);

}  // namespace armwright
