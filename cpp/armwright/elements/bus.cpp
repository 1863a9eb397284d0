#include "armwright/elements/bus.hpp"

#include <algorithm>

#include "armwright/elements/root_mean.hpp"

namespace armwright {

namespace {

// When a power that goes straight has moved the energy `amount`, both of one sign; at most `time`.
double time_of(double amount, double power_from, double power_to, double time) {
  const double rise = (power_to - power_from) / time;
  const double root = std::sqrt(std::max(0.0, power_from * power_from + 2 * rise * amount));
  const double sum = std::fabs(power_from) + root;  // root form without cancellation
  return sum > 0 ? std::clamp(2 * std::fabs(amount) / sum, 0.0, time) : time;
}

// Power of one sign throughout.
void advance_one_way(BusState& bus, double room, double from, double to, double time) {
  const double energy = 0.5 * (from + to) * time, left = energy >= 0 ? bus.stored : room - bus.stored;
  const double kept = std::min(std::fabs(energy), left);  // into or out of the capacitor, first
  const double first = kept < std::fabs(energy) ? time_of(energy >= 0 ? kept : -kept, from, to, time) : time;
  const double peak = first < time ? std::max(std::fabs(from + (to - from) * first / time), std::fabs(to)) : 0, rest = std::fabs(energy) - kept;
  if (energy >= 0) {
    bus.stored -= kept;
    bus.from_mains += rest;
    bus.mains_peak = std::max(bus.mains_peak, peak);
    if (first < time) bus.mains_square += square_integral(from + (to - from) * first / time, to, time - first);
    return;
  }
  bus.stored += kept;
  bus.most_stored = std::max(bus.most_stored, bus.stored);
  bus.returned -= energy;
  bus.burnt += rest;
  bus.burn_peak = std::max(bus.burn_peak, peak);
  bus.burn_time += time - first;
}

}  // namespace

void advance_bus(BusState& bus, double room, double from, double to, double time) {
  if (!(time > 0)) return;
  if (from * to >= 0) return advance_one_way(bus, room, from, to, time);
  const double zero = time * from / (from - to);
  advance_one_way(bus, room, from, 0, zero);
  advance_one_way(bus, room, 0, to, time - zero);
}

}  // namespace armwright
