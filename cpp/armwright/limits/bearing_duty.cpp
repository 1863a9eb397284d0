#include "armwright/limits/bearing_duty.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

BearingDuty bearing_duty(std::span<const BearingLoads> loads, std::size_t first, std::size_t stride, std::span<const double> angle, std::span<const double> speed,
                         std::span<const double> duty, double exponent) {
  BearingDuty sum;
  for (std::size_t i = 0; i < duty.size(); ++i) {
    if (!(duty[i] > 0)) continue;
    const BearingLoads& at = loads[first + stride * i];
    const double fast = std::fabs(speed[i]), way = fast * duty[i];
    sum.least_angle = sum.time > 0 ? std::min(sum.least_angle, angle[i]) : angle[i];
    sum.greatest_angle = sum.time > 0 ? std::max(sum.greatest_angle, angle[i]) : angle[i];
    sum.time += duty[i];
    sum.turned += way;
    sum.wear += way * std::pow(at.equivalent, exponent);
    sum.greatest_speed = std::max(sum.greatest_speed, fast);
    if (fast == 0) continue;
    sum.greatest_equivalent = std::max(sum.greatest_equivalent, at.equivalent);
    sum.beyond_table = sum.beyond_table || at.beyond_table;
  }
  return sum;
}

}  // namespace armwright
