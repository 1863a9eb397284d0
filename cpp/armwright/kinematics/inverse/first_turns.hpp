#pragma once

#include "armwright/kinematics/inverse/circle_roots.hpp"
#include "armwright/kinematics/inverse/three_parallel.hpp"

namespace armwright {

/// The angles t1 of a three-parallel arm whose axes 5 and 6 do not meet: up to four. `p`: the point on axis 6, and `m`:
/// the direction of axis 6, both seen from the closed form's frame on axis 1.
CircleRoots first_turns_apart(const ThreeParallelSetup& setup, const Vec3& p, const Vec3& m);

}  // namespace armwright
