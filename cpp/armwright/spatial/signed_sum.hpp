#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "armwright/spatial/vector3.hpp"

namespace armwright {

/// The longest sum of vectors of which each may count with either sign: what causes that each may go either way do at
/// worst, all together.
struct SignedSum {
  double length = 0;   ///< exact: of the longest sum; else a bound that it is proven not to pass
  Vec3 sum{0, 0, 0};   ///< the longest sum (of the two that differ by their sign, one); where it is not exact, the longest found
  bool exact = true;
};

/// Scratch of one thread.
struct SignedSumWork {
  std::vector<Vec3> vectors;       ///< of which none are parallel
  std::vector<std::size_t> level;  ///< those square to a direction
};

/// Longest sum ± v_1 ± v_2 ± ..., in the vectors' unit. It is the largest of the widths sum |v_k · u| over unit directions u,
/// and where that is reached every sign is that of v_k · u. Signs change only where u is square to some v_k: planes
/// through the origin cut the sphere of directions into cells, each with one set of signs and a corner square to two of
/// the vectors, so that all sets that matter are met by going through the pairs of vectors: m² sums of m. Of more than
/// `most_exact` directions (parallel vectors are one), the width is taken along a net of directions none of which lies
/// farther than an angle a from the next, and the bound is the largest of them / cos a, 0.2 % above it at most. Own
/// derivation; the tests try all signs.
SignedSum longest_signed_sum(std::span<const Vec3> vectors, std::size_t most_exact, SignedSumWork& work);

/// A batch of them: vectors rows × count × 3; lengths rows, sums rows × 3, exact rows (0 or 1).
void longest_signed_sums(std::span<const double> vectors, std::size_t count, std::size_t most_exact, std::span<double> lengths,
                         std::span<double> sums, std::span<std::uint8_t> exact);

}  // namespace armwright
