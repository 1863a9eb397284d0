#pragma once

#include <cstddef>

#include "armwright/support/lanes.hpp"

namespace armwright {

/// A pivot below this share of its diagonal is rounding: the joint has no inertia of its own.
inline constexpr double lost_pivot = 1e-13;

/// Solves A x = b in place for a symmetric positive A (row-major n × n; its lower half is read), from the last row to the
/// first, so that a chain's outer joints are eliminated first. `bad(k, pivot)` says whether a pivot is lost; it counts as 1.
template <class T, class Bad>
ARMWRIGHT_INLINE void solve_symmetric(std::size_t n, T* A, T* x, Bad bad) {
  for (std::size_t k = n; k-- > 0;) {
    const T pivot = A[k * n + k];
    const auto lost = bad(k, pivot);
    const T over = T(1.0) / select(lost, T(1.0), pivot);
    for (std::size_t i = k; i-- > 0;) {  // downwards: row k is still needed up to i
      const T factor = A[k * n + i] * over;
      for (std::size_t j = 0; j <= i; ++j) A[i * n + j] = A[i * n + j] - factor * A[k * n + j];
      x[i] = x[i] - factor * x[k];
      A[k * n + i] = factor;
    }
    x[k] = x[k] * over;
  }
  // What was divided by the pivots already is now carried back outwards.
  for (std::size_t k = 0; k < n; ++k)
    for (std::size_t i = 0; i < k; ++i) x[k] = x[k] - A[k * n + i] * x[i];
}

}  // namespace armwright
