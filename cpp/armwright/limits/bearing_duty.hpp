#pragma once

#include <span>

#include "armwright/limits/bearing_loads.hpp"

namespace armwright {

/// What a duty does to one bearing. Only rows that stand for a time count.
struct BearingDuty {
  double time = 0;                      ///< s
  double turned = 0;                    ///< rad, back and forth all counted
  double wear = 0;                      ///< sum of P^p |speed| time, N^p rad
  double greatest_equivalent = 0;       ///< N, of rows in which it turns
  double greatest_speed = 0;            ///< rad/s
  double least_angle = 0, greatest_angle = 0;  ///< rad
  bool beyond_table = false;            ///< Fa/C0 of a row in which it turns
};

/// `loads`: this bearing's entries, one every `stride` from `first` on, a row each. `angle` rad, `speed` rad/s, `duty` s that each
/// row stands for.
BearingDuty bearing_duty(std::span<const BearingLoads> loads, std::size_t first, std::size_t stride, std::span<const double> angle, std::span<const double> speed,
                         std::span<const double> duty, double exponent);


}  // namespace armwright
