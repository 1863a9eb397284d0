#include "armwright/motion/profile_jerk.hpp"

#include <cmath>

namespace armwright {

Profile double_s(double distance, double speed, double acceleration, double jerk) {
  Profile p;
  p.distance = distance;
  if (distance <= 0) return p;
  p.jerk = jerk;
  // On the way to the greatest speed: the acceleration is reached if v j >= a².
  const bool reaches = speed * jerk >= acceleration * acceleration;
  p.ramp = reaches ? acceleration / jerk : std::sqrt(speed / jerk);
  p.accelerating = reaches ? p.ramp + speed / acceleration : 2 * p.ramp;
  if (std::isfinite(p.accelerating) && distance / speed >= p.accelerating) {
    p.cruise = distance / speed - p.accelerating;
    p.speed = speed;
    p.acceleration = jerk * p.ramp;
    return p;
  }
  // The speed is not reached. With both ramps whole the way would be 2 a³/j² or more.
  if (distance * jerk * jerk >= 2 * acceleration * acceleration * acceleration) {
    p.ramp = acceleration / jerk;
    p.accelerating = 0.5 * p.ramp + std::sqrt(0.25 * p.ramp * p.ramp + distance / acceleration);
  } else {
    p.ramp = std::cbrt(distance / (2 * jerk));
    p.accelerating = 2 * p.ramp;
  }
  p.acceleration = jerk * p.ramp;
  p.speed = distance / p.accelerating;
  return p;
}

}  // namespace armwright
