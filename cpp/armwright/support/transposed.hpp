#pragma once

#include <cstddef>
#include <cstring>

#include "armwright/support/lanes.hpp"

namespace armwright {

/// Eight values of each lane as a run of eight in each row: rows[k][0..7] = lane k of values[0..7].
ARMWRIGHT_INLINE void store_eight(const WideLanes* values, double* rows, std::size_t stride) {
  using Vector = WideLanes::Vector;
  Vector pair[8], quad[8];  // lanes of two, and of four, values side by side
  for (std::size_t i = 0; i < 8; i += 2) {
    pair[i] = __builtin_shufflevector(values[i].v, values[i + 1].v, 0, 8, 2, 10, 4, 12, 6, 14);
    pair[i + 1] = __builtin_shufflevector(values[i].v, values[i + 1].v, 1, 9, 3, 11, 5, 13, 7, 15);
  }
  for (std::size_t i = 0; i < 8; i += 4) {
    for (std::size_t odd = 0; odd < 2; ++odd) {  // quad[i + 2 odd]: lanes odd and odd + 4; the next: odd + 2 and odd + 6
      quad[i + 2 * odd] = __builtin_shufflevector(pair[i + odd], pair[i + 2 + odd], 0, 1, 8, 9, 4, 5, 12, 13);
      quad[i + 2 * odd + 1] = __builtin_shufflevector(pair[i + odd], pair[i + 2 + odd], 2, 3, 10, 11, 6, 7, 14, 15);
    }
  }
  for (std::size_t odd = 0; odd < 2; ++odd) {
    for (std::size_t up = 0; up < 2; ++up) {
      const Vector low = quad[2 * odd + up], high = quad[4 + 2 * odd + up];
      const std::size_t lane = odd + 2 * up;
      const Vector first = __builtin_shufflevector(low, high, 0, 1, 2, 3, 8, 9, 10, 11);
      const Vector second = __builtin_shufflevector(low, high, 4, 5, 6, 7, 12, 13, 14, 15);
      std::memcpy(rows + lane * stride, &first, sizeof(first));
      std::memcpy(rows + (lane + 4) * stride, &second, sizeof(second));
    }
  }
}

/// `Count` values of each lane as a run in each row: rows[k * stride + i] = lane k of values[i]. Count: a multiple of eight.
template <std::size_t Count>
ARMWRIGHT_INLINE void store_transposed(const WideLanes* values, double* rows, std::size_t stride) {
  for (std::size_t i = 0; i < Count; i += 8) store_eight(values + i, rows + i, stride);
}
template <std::size_t Count>
ARMWRIGHT_INLINE void store_transposed(const Lanes* values, double* rows, std::size_t stride) {
  for (std::size_t i = 0; i < Count; i += 4) store_quad(values[i], values[i + 1], values[i + 2], values[i + 3], rows + i, stride);
}

}  // namespace armwright
