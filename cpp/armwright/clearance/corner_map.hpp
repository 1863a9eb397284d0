#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "armwright/spatial/vector3.hpp"

namespace armwright {

/// The corners of a convex solid, sorted by directions: each cell of directions lists all corners that are the farthest along any
/// direction within it. Directions are points of the faces of a cube about the origin, and cells squares of these, quartered until
/// few corners are left. Needs no faces and no neighbours, so that flat, double or nearly equal corners do no harm; square to a
/// flat face all its corners are listed.
struct CornerMap {
  /// A leaf lists `count` corners from `first` on; a branch (count = 0) has its quarters at `first` to `first` + 3.
  struct Cell {
    std::uint32_t first, count;
  };
  std::vector<Cell> cells;            ///< the first six are the faces of the cube: +x, -x, +y, -y, +z, -z
  std::vector<std::uint32_t> listed;  ///< places of corners, rising within a leaf
};

/// With fewer corners than this, asking all is as quick.
inline constexpr std::size_t worth_a_map = 32;

CornerMap map_corners(std::span<const Vec3> corners);

/// The place of the corner farthest along `way`: the very one that asking all of `corners` finds, of equal ones the first.
inline std::size_t farthest_corner(const CornerMap& map, const Vec3* corners, const Vec3& way) {
  const double x = std::fabs(way.x), y = std::fabs(way.y), z = std::fabs(way.z);
  const int axis = x >= y && x >= z ? 0 : y >= z ? 1 : 2;
  const double main = axis == 0 ? way.x : axis == 1 ? way.y : way.z, scale = 1 / std::fabs(main);
  double u = scale * (axis == 0 ? way.y : way.x), v = scale * (axis == 2 ? way.y : way.z);
  const CornerMap::Cell* cell = &map.cells[static_cast<std::size_t>(2 * axis + (main < 0 ? 1 : 0))];
  while (cell->count == 0) {
    const bool right = u >= 0, upper = v >= 0;
    cell = &map.cells[cell->first + (right ? 1u : 0u) + (upper ? 2u : 0u)];
    u = 2 * u + (right ? -1 : 1), v = 2 * v + (upper ? -1 : 1);
  }
  const std::uint32_t *at = &map.listed[cell->first], *end = at + cell->count;
  std::size_t best = *at;
  double most = dot(corners[best], way);
  while (++at < end) {
    const double here = dot(corners[*at], way);
    if (here > most) most = here, best = *at;
  }
  return best;
}

}  // namespace armwright
