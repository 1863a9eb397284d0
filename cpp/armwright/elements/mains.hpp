#pragma once

#include <cmath>

namespace armwright {

/// Current in a line, A rms: P/(V cos phi), or P/(sqrt 3 V cos phi) with the voltage between lines for three phases.
inline double mains_current(double power, double voltage, int phases, double power_factor) {
  return power / (voltage * power_factor * (phases == 3 ? std::sqrt(3.0) : 1.0));
}

/// Share of what a branch circuit may carry. A load of three hours or more counts as continuous and may take 80 % of the
/// breaker's rating only (NEC 210.19, 210.20; other codes differ: for those licensed for it).
inline double branch_share(double current, double breaker_current, bool continuous) {
  return current / (breaker_current * (continuous ? 0.8 : 1.0));
}

}  // namespace armwright
