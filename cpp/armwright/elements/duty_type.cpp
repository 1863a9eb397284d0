#include "armwright/elements/duty_type.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/elements/root_mean.hpp"

namespace armwright {

namespace {

constexpr double matters = 0.05;

struct Sums {
  double time = 0, rest = 0, square = 0, starting = 0, braking = 0;
  double slowest = -1, fastest = 0, least_torque = -1;  // of what runs evenly
};

DutyType named(const Sums& sums, double greatest_torque, bool repeated) {
  const bool starts = sums.starting > matters * sums.square, brakes = sums.braking > matters * sums.square;
  if (sums.rest > 0.01 * sums.time) return !repeated ? DutyType::s2 : brakes ? DutyType::s5 : starts ? DutyType::s4 : DutyType::s3;
  const bool one_speed = sums.slowest < 0 || sums.fastest - sums.slowest <= matters * sums.fastest;
  if (!one_speed) return DutyType::s8;
  if (starts || brakes) return brakes ? DutyType::s7 : DutyType::s8;
  const bool one_load = sums.least_torque < 0 || greatest_torque - sums.least_torque <= matters * greatest_torque;
  return one_load ? DutyType::s1 : DutyType::s6;
}

}  // namespace

Duty duty_of(std::span<const DutySpan> history, bool repeated) {
  double most_torque = 0, most_speed = 0;
  for (const DutySpan& s : history) {
    most_torque = std::max({most_torque, std::fabs(s.torque_from), std::fabs(s.torque_to)});
    most_speed = std::max({most_speed, std::fabs(s.speed_from), std::fabs(s.speed_to)});
  }
  Sums sums;
  double speed_square = 0, turned = 0;
  for (const DutySpan& s : history) {
    const double square = square_integral(s.torque_from, s.torque_to, s.time), a = std::fabs(s.speed_from), b = std::fabs(s.speed_to);
    const double least = std::min(std::fabs(s.torque_from), std::fabs(s.torque_to)), most = std::max(std::fabs(s.torque_from), std::fabs(s.torque_to));
    sums.time += s.time;
    sums.square += square;
    speed_square += square_integral(s.speed_from, s.speed_to, s.time);
    turned += magnitude_integral(s.speed_from, s.speed_to, s.time);
    const bool stands = std::max(a, b) <= 1e-9 * most_speed;
    if (stands && most <= matters * most_torque) {
      sums.rest += s.time;
    } else if (std::fabs(b - a) <= 1e-6 * most_speed) {  // runs evenly
      sums.slowest = sums.slowest < 0 ? std::min(a, b) : std::min({sums.slowest, a, b});
      sums.fastest = std::max({sums.fastest, a, b});
      sums.least_torque = sums.least_torque < 0 ? least : std::min(sums.least_torque, least);
    } else if (b > a) {
      sums.starting += square;
    } else if ((s.torque_from + s.torque_to) * (s.speed_from + s.speed_to) < 0) {
      sums.braking += square;
    }
  }
  return {named(sums, most_torque, repeated), sums.time > 0 ? 1 - sums.rest / sums.time : 0, root_mean_square(sums.square, sums.time),
          root_mean_square(speed_square, sums.time), sums.time > 0 ? turned / sums.time : 0, most_speed};
}

}  // namespace armwright
