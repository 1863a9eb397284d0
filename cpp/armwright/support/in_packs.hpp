#pragma once

#include <array>
#include <cstddef>
#include <cstring>

#include "armwright/support/lanes.hpp"

namespace armwright {

/// Calls group(inputs, out) for every pack of successive rows of a batch, T's width of them. The last rows, if fewer, go
/// through the same code in a padded copy, so that a row's result does not depend on where in a batch it stands.
/// `in_size[i]` and `out_size` are numbers a row; at most `Widest` each.
template <class T, std::size_t Widest, std::size_t Inputs, class Group>
ARMWRIGHT_INLINE void in_packs(std::size_t rows, const std::array<const double*, Inputs>& inputs,
                               const std::array<std::size_t, Inputs>& in_size, double* out, std::size_t out_size,
                               const Group& group) {
  constexpr std::size_t width = width_of<T>;
  double padded[Inputs][width * Widest], result[width * Widest];
  for (std::size_t row = 0; row < rows; row += width) {
    const std::size_t left = rows - row;
    std::array<const double*, Inputs> at;
    for (std::size_t i = 0; i < Inputs; ++i) at[i] = inputs[i] + row * in_size[i];
    if (left < width) {
      for (std::size_t i = 0; i < Inputs; ++i) {
        for (std::size_t k = 0; k < width; ++k)
          std::memcpy(padded[i] + k * in_size[i], at[i] + (k < left ? k : left - 1) * in_size[i], in_size[i] * sizeof(double));
        at[i] = padded[i];
      }
    }
    group(at, left < width ? result : out + row * out_size);
    if (left < width) std::memcpy(out + row * out_size, result, left * out_size * sizeof(double));
  }
}

}  // namespace armwright
