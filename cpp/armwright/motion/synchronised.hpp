#pragma once

#include <cstdint>
#include <span>

#include "armwright/motion/profile.hpp"
#include "armwright/motion/timed_motion.hpp"

namespace armwright {

/// Several joints in step along one straight line in joint space: all follow q(t) = from + share(t) (to - from) with one
/// share from 0 to 1, so that they start and stop together and the slowest decides.
struct Synchronised {
  Profile share;                                   ///< distance 1; 0 if nothing moves
  MotionLimit limit = MotionLimit::none;           ///< what decides the duration: the limit whose doubling would shorten it most
  std::int32_t axis = -1;                          ///< whose it is
  bool bounded = true;                             ///< false: no limit holds it back (infinite ones); then the profile is empty
};

/// Greatest speed (rad/s, m/s), acceleration and jerk of each joint; jerk empty: a trapezoid. A jerk that is infinite for every
/// joint that moves counts as none.
Synchronised synchronised(std::span<const double> from, std::span<const double> to, std::span<const double> speed,
                          std::span<const double> acceleration, std::span<const double> jerk);

}  // namespace armwright
