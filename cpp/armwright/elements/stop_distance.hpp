#pragma once

#include <cmath>

namespace armwright {

/// Way until standstill: v t + v²/(2a), from speed v that lasts for a reaction time and is then braked evenly.
inline double stop_distance(double speed, double reaction_time, double deceleration) {
  const double v = std::fabs(speed);
  return v * reaction_time + v * v / (2 * deceleration);
}

/// Where a soft limit and a limit switch stand before a hard stop, so that a stop that begins at either ends `reserve` before
/// the hard stop. A controlled stop from the soft limit may travel `controlled_travel`; if it fails, the switch takes the
/// power off and the brake's stop travels `brake_travel`; the switch is missed by up to `switch_error`.
/// All m or rad, distances from the hard stop.
struct StopPlaces {
  double limit_switch, soft_limit;
};
inline StopPlaces stop_places(double controlled_travel, double brake_travel, double switch_error, double reserve) {
  const double at_switch = reserve + brake_travel + switch_error;
  return {at_switch, at_switch + controlled_travel};  // the controlled stop ends before the switch
}

}  // namespace armwright
