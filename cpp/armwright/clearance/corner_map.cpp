#include "armwright/clearance/corner_map.hpp"

#include <algorithm>
#include <array>
#include <numeric>
#include <utility>

namespace armwright {

namespace {

constexpr std::uint32_t few = 8;  // corners, with which a cell is left as it is
constexpr int deepest = 10;       // quarterings

// A cell in the making: a square of one face of the cube, and the corners that are farthest anywhere within it.
struct Draft {
  int face, depth;
  double u, v, half;  // middle and half a side
  std::vector<std::uint32_t> corners;

  Vec3 direction(double du, double dv) const {
    const double main = face % 2 == 0 ? 1 : -1, a = u + du * half, b = v + dv * half;
    return face / 2 == 0 ? Vec3{main, a, b} : face / 2 == 1 ? Vec3{a, main, b} : Vec3{a, b, main};
  }
};

using Heights = std::array<double, 5>;  // of a corner along the directions of a cell's four corners and its middle

// Leaves out what some other corner overtops along the directions of all four corners of the cell, and so along all within.
void leave_out(Draft& cell, std::span<const Vec3> corners, double rounding) {
  const Vec3 ways[5] = {cell.direction(-1, -1), cell.direction(1, -1), cell.direction(-1, 1), cell.direction(1, 1), cell.direction(0, 0)};
  std::vector<Heights> heights(cell.corners.size());
  Heights tops[5];
  for (std::size_t k = 0; k < heights.size(); ++k) {
    for (std::size_t w = 0; w < 5; ++w) heights[k][w] = dot(corners[cell.corners[k]], ways[w]);
    for (std::size_t w = 0; w < 5; ++w)
      if (k == 0 || heights[k][w] > tops[w][w]) tops[w] = heights[k];
  }
  std::size_t kept = 0;
  for (std::size_t k = 0; k < heights.size(); ++k) {
    const bool overtopped = std::any_of(std::begin(tops), std::end(tops), [&](const Heights& top) {
      return std::equal(top.begin(), top.begin() + 4, heights[k].begin(), [&](double above, double here) { return above - here > rounding; });
    });
    if (!overtopped) cell.corners[kept++] = cell.corners[k];
  }
  cell.corners.resize(kept);
}

}  // namespace

CornerMap map_corners(std::span<const Vec3> corners) {
  double size = 0;
  for (const Vec3& p : corners) size = std::max(size, norm(p));
  const double rounding = 1e-14 * size;  // more than it can do to a height, and to which cell a direction is in
  // Where many corners are about as far along many directions, as on the rim of a disc, quartering no longer pays.
  const std::size_t most_listed = 24 * corners.size();
  std::size_t listed = 0;
  std::vector<Draft> drafts;
  for (int face = 0; face < 6; ++face) {
    drafts.push_back({face, 0, 0, 0, 1, std::vector<std::uint32_t>(corners.size())});
    std::iota(drafts.back().corners.begin(), drafts.back().corners.end(), 0u);
    leave_out(drafts.back(), corners, rounding);
    listed += drafts.back().corners.size();
  }
  CornerMap map;
  for (std::size_t n = 0; n < drafts.size(); ++n) {
    const Draft cell = std::move(drafts[n]);
    const std::size_t count = cell.corners.size();
    if (count <= few || cell.depth == deepest || listed + 4 * count > most_listed) {
      map.cells.push_back({static_cast<std::uint32_t>(map.listed.size()), static_cast<std::uint32_t>(count)});
      map.listed.insert(map.listed.end(), cell.corners.begin(), cell.corners.end());
      continue;
    }
    map.cells.push_back({static_cast<std::uint32_t>(drafts.size()), 0});
    listed -= count;
    const double half = 0.5 * cell.half;
    for (int quarter = 0; quarter < 4; ++quarter) {
      drafts.push_back({cell.face, cell.depth + 1, cell.u + (quarter & 1 ? half : -half), cell.v + (quarter & 2 ? half : -half), half, cell.corners});
      leave_out(drafts.back(), corners, rounding);
      listed += drafts.back().corners.size();
    }
  }
  return map;
}

}  // namespace armwright
