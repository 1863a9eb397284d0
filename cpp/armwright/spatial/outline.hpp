#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

namespace armwright {

using Point2 = std::array<double, 2>;

/// A flat grid: origin + spacing · (i, j), j fastest.
struct FlatGrid {
  Point2 origin{0, 0};
  double spacing = 0;
  std::array<std::size_t, 2> count{0, 0};

  std::size_t size() const { return count[0] * count[1]; }
  Point2 position(std::size_t index) const {
    return {origin[0] + spacing * static_cast<double>(index / count[1]), origin[1] + spacing * static_cast<double>(index % count[1])};
  }
};

/// Boundary curves of a region known by its marks on a grid: marching squares, with each crossing of a grid edge
/// placed by `crossing(marked end, unmarked end)`. The two saddle cases are cut so that marked corners stay apart.
/// Closed curves repeat their first point; curves that run off the grid are open. Between curves stands a row of NaN.
std::vector<Point2> outline_of(const FlatGrid& grid, const std::vector<std::uint8_t>& marked,
                               const std::function<Point2(std::size_t inside, std::size_t outside)>& crossing);

}  // namespace armwright
