#pragma once

#include "armwright/elements/rolling_bearing.hpp"

namespace armwright {

/// Reliabilities for which ISO 281:2007 has a factor (table of a1): 90 % to 99.95 %.
inline constexpr double least_reliability = 0.90, greatest_reliability = 0.9995;

/// Life modification factor a1 for a reliability: 0.95 (ln(1/S)/ln(1/0.9))^(2/3) + 0.05, the Weibull law with a least life behind
/// ISO 281:2007's table (ISO/TR 1281-2; from memory), which rounds to every entry of it.
double reliability_factor(double reliability);

/// Basic rating life, revolutions: (C/P)^p · 1e6 (ISO 281); infinite without load.
double rating_life(double dynamic_rating, double equivalent_load, double exponent);

/// Dynamic rating, N, that a life of that many revolutions needs, at a reliability factor a1.
double needed_rating(double equivalent_load, double revolutions, double exponent, double reliability_factor);

/// Load that wears as much as loads that change, N: (sum P^p n t / sum n t)^(1/p), from the sums; 0 where nothing turned.
double mean_equivalent_load(double wear, double turned, double exponent);

/// Greatest P, N, up to which ISO 281's life equation is meant to hold: C/2, for balls not more than C0 either (clauses "loading
/// restriction": 5.3.2 for radial ball bearings, 7.3.2 for radial roller bearings in ISO 281:2007; from memory). NaN ratings are
/// not counted.
double greatest_life_load(BearingKind kind, double dynamic_rating, double static_rating);

/// Least static safety C0/P0 that ISO 76:2006 advises where shocks occur, as an emergency stop is: 1.5 for balls, 3 for rollers
/// (from memory).
constexpr double advised_static_safety(BearingKind kind) { return has_rollers(kind) ? 3.0 : 1.5; }

}  // namespace armwright
