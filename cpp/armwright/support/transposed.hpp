#pragma once

#include <cstddef>

#include "armwright/support/eight.hpp"

namespace armwright {

#if ARMWRIGHT_INSTRUCTION_SETS
/// See transpose() of four packs.
ARMWRIGHT_INLINE void transpose(Eight (&x)[8]) {
  Eight::Vector pair[8], quad[8];  // lanes of two, and of four, packs side by side
  for (std::size_t i = 0; i < 8; i += 2) {
    pair[i] = __builtin_shufflevector(x[i].v, x[i + 1].v, 0, 8, 2, 10, 4, 12, 6, 14);
    pair[i + 1] = __builtin_shufflevector(x[i].v, x[i + 1].v, 1, 9, 3, 11, 5, 13, 7, 15);
  }
  for (std::size_t i = 0; i < 8; i += 4) {
    for (std::size_t odd = 0; odd < 2; ++odd) {  // quad[i + odd]: lanes odd and odd + 4; quad[i + odd + 2]: odd + 2 and odd + 6
      quad[i + odd] = __builtin_shufflevector(pair[i + odd], pair[i + 2 + odd], 0, 1, 8, 9, 4, 5, 12, 13);
      quad[i + odd + 2] = __builtin_shufflevector(pair[i + odd], pair[i + 2 + odd], 2, 3, 10, 11, 6, 7, 14, 15);
    }
  }
  for (std::size_t lane = 0; lane < 4; ++lane) {
    x[lane] = Eight(__builtin_shufflevector(quad[lane], quad[lane + 4], 0, 1, 2, 3, 8, 9, 10, 11));
    x[lane + 4] = Eight(__builtin_shufflevector(quad[lane], quad[lane + 4], 4, 5, 6, 7, 12, 13, 14, 15));
  }
}
#endif

/// The first `Count` numbers of each lane's row: values[i] = number i of every row. Rows are as long as the next multiple of
/// T's width.
template <std::size_t Count, class T>
ARMWRIGHT_INLINE void load_transposed(const double* const (&rows)[T::width], T (&values)[Count]) {
  for (std::size_t first = 0; first < Count; first += T::width) {
    T x[T::width];
    for (std::size_t k = 0; k < T::width; ++k) x[k] = load_run<T>(rows[k] + first);
    transpose(x);
    for (std::size_t i = first; i < Count && i < first + T::width; ++i) values[i] = x[i - first];
  }
}

/// `Count` values of each lane as a run in each row: rows[k * stride + i] = lane k of values[i]. Count: a multiple of T's width.
template <std::size_t Count, class T>
ARMWRIGHT_INLINE void store_transposed(const T* values, double* rows, std::size_t stride) {
  for (std::size_t first = 0; first < Count; first += T::width) {
    T x[T::width];
    for (std::size_t i = 0; i < T::width; ++i) x[i] = values[first + i];
    transpose(x);
    for (std::size_t k = 0; k < T::width; ++k) store_run(x[k], rows + k * stride + first);
  }
}

}  // namespace armwright
