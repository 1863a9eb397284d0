#pragma once

#include "armwright/motion/profile.hpp"

namespace armwright {

/// The fastest motion from rest to rest over `distance` (not negative) with at most `speed` and `acceleration` (positive; one of
/// them may be infinite, not the acceleration): T = d/v + v/a where the speed is reached, else 2 sqrt(d/a). L. Biagiotti,
/// C. Melchiorri, "Trajectory Planning for Automatic Machines and Robots", 2008, section 3.2.
Profile trapezoid(double distance, double speed, double acceleration);

}  // namespace armwright
