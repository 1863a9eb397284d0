#pragma once

#include "armwright/support/lanes.hpp"

namespace armwright {

/// Torque (N m) that turns a shaft against its friction: Coulomb by direction, and viscous (N m s) times speed (rad/s).
/// `direction`: any number with the sign of the motion; 0 at rest, where nothing is asked of the motor.
template <class T>
ARMWRIGHT_INLINE T friction_torque(double coulomb_forward, double coulomb_backward, double viscous, T speed, T direction) {
  const T zero(0.0);
  return T(viscous) * speed + select(direction > zero, T(coulomb_forward), select(direction < zero, T(-coulomb_backward), zero));
}

}  // namespace armwright
