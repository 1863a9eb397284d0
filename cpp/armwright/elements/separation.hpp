#pragma once

#include <algorithm>

namespace armwright {

// Least distance of a safeguard from the danger zone, ISO 13855:2010: S = K T + C, here in m, m/s, s. T is the whole time from
// the safeguard's answer to standstill. The standard itself, and those who know it, decide what applies.

/// Light curtain across the way in, of resolution d up to 40 mm: K = 2 m/s, C = 8 (d - 14 mm); if that gives more than 0.5 m,
/// K = 1.6 m/s counts, but not below 0.5 m; never below 0.1 m.
inline double separation_light_curtain(double stop_time, double resolution) {
  const double intrusion = std::max(0.0, 8 * (resolution - 0.014));
  const double fast = 2.0 * stop_time + intrusion;
  if (fast <= 0.5) return std::max(fast, 0.1);
  return std::max(1.6 * stop_time + intrusion, 0.5);
}

/// Across the way in, where a whole arm gets through: resolution above 40 mm up to 70 mm, or single beams: K = 1.6 m/s,
/// C = 0.85 m (from memory).
inline double separation_arm(double stop_time) { return 1.6 * stop_time + 0.85; }

/// Along the way in, at a height above the floor (scanner, mat): K = 1.6 m/s, C = 1.2 m - 0.4 H, not below 0.85 m (from memory).
inline double separation_along(double stop_time, double height) { return 1.6 * stop_time + std::max(1.2 - 0.4 * height, 0.85); }

/// The greatest resolution that a field at that height may have: d = H/15 + 50 mm (from memory).
inline double coarsest_resolution(double height) { return height / 15 + 0.05; }

/// Two-hand control: K = 1.6 m/s, C = 0.25 m, not below 0.1 m (from memory).
inline double separation_two_hand(double stop_time) { return std::max(1.6 * stop_time + 0.25, 0.1); }

/// Guard with an interlock but no lock: K = 1.6 m/s; C is how far one reaches through the opening, by ISO 13857 (from memory).
inline double separation_guard(double stop_time, double reach_through) { return 1.6 * stop_time + reach_through; }

}  // namespace armwright
