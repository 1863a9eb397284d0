#pragma once

#include <cmath>

namespace armwright {

/// What the motor turns, told at its shaft, over what turns with the shaft itself: J_load / (N² J_motor), both kg m².
/// Servo makers advise against more than 5 to 30 by drive (common practice, no source).
inline double inertia_ratio(double load_inertia, double ratio, double motor_inertia) {
  return load_inertia / (ratio * ratio * motor_inertia);
}

/// The ratio at which a given motor torque accelerates a load most: sqrt(J_load / J_motor), losses left out.
inline double matching_ratio(double load_inertia, double motor_inertia) { return std::sqrt(load_inertia / motor_inertia); }

}  // namespace armwright
