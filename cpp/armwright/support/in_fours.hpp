#pragma once

#include <array>
#include <cstddef>
#include <cstring>

#include "armwright/support/lanes.hpp"

namespace armwright {

/// Calls group(inputs, out) for every four successive rows of a batch. The last rows, if fewer than four, go through
/// the same code in a padded copy, so that a row's result does not depend on where in a batch it stands.
/// `in_size[i]` and `out_size` are numbers a row; at most `Widest` each.
template <std::size_t Widest, std::size_t Inputs, class Group>
ARMWRIGHT_INLINE void in_fours(std::size_t rows, const std::array<const double*, Inputs>& inputs,
                               const std::array<std::size_t, Inputs>& in_size, double* out, std::size_t out_size,
                               Group group) {
  double padded[Inputs][Lanes::width * Widest], result[Lanes::width * Widest];
  for (std::size_t row = 0; row < rows; row += Lanes::width) {
    const std::size_t left = rows - row;
    std::array<const double*, Inputs> at;
    for (std::size_t i = 0; i < Inputs; ++i) at[i] = inputs[i] + row * in_size[i];
    if (left < Lanes::width) {
      for (std::size_t i = 0; i < Inputs; ++i) {
        for (std::size_t k = 0; k < Lanes::width; ++k)
          std::memcpy(padded[i] + k * in_size[i], at[i] + (k < left ? k : left - 1) * in_size[i], in_size[i] * sizeof(double));
        at[i] = padded[i];
      }
    }
    group(at, left < Lanes::width ? result : out + row * out_size);
    if (left < Lanes::width) std::memcpy(out + row * out_size, result, left * out_size * sizeof(double));
  }
}

}  // namespace armwright
