#pragma once

#include "armwright/motion/profile.hpp"

namespace armwright {

/// The fastest motion from rest to rest over `distance` (not negative) with at most `speed`, `acceleration` and `jerk` (positive;
/// speed and acceleration may be infinite): the double S of L. Biagiotti, C. Melchiorri, "Trajectory Planning for Automatic
/// Machines and Robots", 2008, section 3.4, for rest at both ends. Four cases: the speed and the acceleration are reached, or
/// only one of them, or neither.
Profile double_s(double distance, double speed, double acceleration, double jerk);

}  // namespace armwright
