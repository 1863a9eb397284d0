#include "armwright/motion/profile_trapezoid.hpp"

#include <cmath>

namespace armwright {

Profile trapezoid(double distance, double speed, double acceleration) {
  Profile p;
  p.distance = distance;
  if (distance <= 0) return p;
  p.acceleration = acceleration;
  if (distance * acceleration >= speed * speed) {
    p.speed = speed;
    p.accelerating = speed / acceleration;
    p.cruise = distance / speed - p.accelerating;
  } else {
    p.speed = std::sqrt(distance * acceleration);
    p.accelerating = std::sqrt(distance / acceleration);
  }
  return p;
}

}  // namespace armwright
