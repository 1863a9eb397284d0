#include "armwright/spatial/grid.hpp"

#include <cmath>

namespace armwright {

CountedVolume counted_volume(const Grid& grid, std::span<const std::uint8_t> marked) {
  std::array<double, 8> coarse{};
  for (std::size_t index = 0; index < grid.size(); ++index) {
    if (!marked[index]) continue;
    const std::size_t k = index % grid.count[2], j = index / grid.count[2] % grid.count[1], i = index / (grid.count[1] * grid.count[2]);
    coarse[4 * (i % 2) + 2 * (j % 2) + k % 2] += 1;
  }
  const double cube = grid.spacing * grid.spacing * grid.spacing;
  double total = 0, square = 0;
  for (const double count : coarse) total += count;
  for (const double count : coarse) square += (8 * count - total) * (8 * count - total) / 8;
  return {total * cube, std::sqrt(square) * cube};
}

}  // namespace armwright
