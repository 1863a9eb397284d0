#include "armwright/spatial/outline.hpp"

#include <cstdint>
#include <limits>
#include <map>
#include <utility>

namespace armwright {

namespace {

using Edge = std::pair<std::size_t, std::size_t>;  // two neighbouring grid points, the lower index first

// The pieces of boundary in one square, as pairs of crossed edges. Corners in order around the square.
void cut_square(const std::array<std::size_t, 4>& corner, const std::vector<std::uint8_t>& marked, std::vector<std::pair<Edge, Edge>>& pieces) {
  const auto edge = [&](std::size_t i) {
    const std::size_t a = corner[i], b = corner[(i + 1) % 4];
    return Edge{std::min(a, b), std::max(a, b)};
  };
  std::vector<std::size_t> crossed;
  for (std::size_t i = 0; i < 4; ++i)
    if (marked[corner[i]] != marked[corner[(i + 1) % 4]]) crossed.push_back(i);
  if (crossed.size() == 2) pieces.push_back({edge(crossed[0]), edge(crossed[1])});
  if (crossed.size() != 4) return;
  // A saddle: each marked corner is cut off by the two edges beside it.
  const std::size_t first = marked[corner[0]] ? 0 : 1;
  pieces.push_back({edge((first + 3) % 4), edge(first)});
  pieces.push_back({edge(first + 1), edge((first + 2) % 4)});
}

}  // namespace

std::vector<Point2> outline_of(const FlatGrid& grid, const std::vector<std::uint8_t>& marked,
                               const std::function<Point2(std::size_t, std::size_t)>& crossing) {
  std::vector<std::pair<Edge, Edge>> pieces;
  for (std::size_t i = 0; i + 1 < grid.count[0]; ++i)
    for (std::size_t j = 0; j + 1 < grid.count[1]; ++j) {
      const std::size_t a = i * grid.count[1] + j;
      cut_square({a, a + grid.count[1], a + grid.count[1] + 1, a + 1}, marked, pieces);
    }
  std::map<Edge, std::vector<std::size_t>> at_edge;
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    at_edge[pieces[k].first].push_back(k);
    at_edge[pieces[k].second].push_back(k);
  }

  std::vector<Point2> curves;
  std::vector<std::uint8_t> used(pieces.size(), 0);
  const auto place = [&](const Edge& e) { return marked[e.first] ? crossing(e.first, e.second) : crossing(e.second, e.first); };
  const auto follow = [&](std::size_t piece, Edge from) {
    if (!curves.empty()) curves.push_back({std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::quiet_NaN()});
    curves.push_back(place(from));
    for (bool more = true; more;) {
      used[piece] = 1;
      from = pieces[piece].first == from ? pieces[piece].second : pieces[piece].first;
      curves.push_back(place(from));
      more = false;
      for (const std::size_t next : at_edge[from])
        if (!used[next]) piece = next, more = true;
    }
  };
  // Open curves first, from their loose ends; what is left is closed.
  for (const auto& [edge, beside] : at_edge)
    if (beside.size() == 1 && !used[beside[0]]) follow(beside[0], edge);
  for (std::size_t k = 0; k < pieces.size(); ++k)
    if (!used[k]) follow(k, pieces[k].first);
  return curves;
}

}  // namespace armwright
