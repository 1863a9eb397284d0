#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/elements/guide_blocks.hpp"

namespace armwright {

/// How much a load counts by its direction (1: as much as one that presses), and moments in N per N m.
struct BlockFactors {
  double pressed = 1, lifted = 1, lateral = 1;
  double roll = 0, pitch = 0, yaw = 0;  ///< static rating over static moment rating; NaN: not known
};

/// Load that counts as one pressing the block onto its rail, N: |radial| + |lateral|, each by its direction's factor, and the
/// moments (makers' rule for blocks that bear alike in four directions; common practice). NaN if a moment that it bears has no
/// known factor.
inline double equivalent_block_load(const BlockLoad& load, const BlockFactors& factors) {
  const auto part = [](double value, double factor) { return value == 0 ? 0.0 : std::fabs(value) * factor; };
  return std::fabs(load.radial) * (load.radial < 0 ? factors.lifted : factors.pressed) + part(load.lateral, factors.lateral) +
         part(load.roll, factors.roll) + part(load.pitch, factors.pitch) + part(load.yaw, factors.yaw);
}

/// Load of the rows of rolling elements on the loaded side, N, with both sides pressed together by `preload`: as the load
/// grows, one side gains what Hertz's law gives and the other loses it, until at 2^p times the preload (p 3/2 for balls, 10/9
/// for rollers) that side is free and the load alone counts. Between, the deflection is taken as growing straight with
/// the load: preload · (load / (2^p · preload) + 1)^p, never less than by Hertz's law for both sides.
inline double preloaded_block_load(double load, double preload, bool roller) {
  if (!(preload > 0)) return load;
  const double power = roller ? 10.0 / 9 : 1.5, free = std::exp2(power) * preload;
  return load >= free ? load : preload * std::pow(load / free + 1, power);
}

/// Life exponent of ISO 14728-1 (from memory): 3 for balls, 10/3 for rollers.
inline double guide_life_exponent(bool roller) { return roller ? 10.0 / 3 : 3.0; }

/// Share of the dynamic rating up to which ISO 14728-1's life formula holds (from memory).
inline constexpr double guide_life_holds = 0.5;

/// Nominal life (nine of ten reach it), m: (rating / mean load)^p times the distance that the rating is told for (50 km or
/// 100 km), ISO 14728-1. Infinite where nothing loads it.
inline double guide_life(double rating, double distance, double mean_load, bool roller) {
  if (std::isnan(mean_load)) return mean_load;
  return mean_load > 0 ? distance * std::pow(rating / mean_load, guide_life_exponent(roller)) : std::numeric_limits<double>::infinity();
}

/// A dynamic rating told for one distance, for another: C₅₀ = 2^(1/3) C₁₀₀ for balls.
inline double rating_at_distance(double rating, double distance, double wanted, bool roller) {
  return rating * std::pow(distance / wanted, 1 / guide_life_exponent(roller));
}

/// Static safety C₀ / P₀, ISO 14728-2; infinite where nothing loads it.
inline double guide_static_safety(double static_rating, double static_load) {
  if (std::isnan(static_load)) return static_load;
  return static_load > 0 ? static_rating / static_load : std::numeric_limits<double>::infinity();
}

}  // namespace armwright
