#include "armwright/studies/track/strokes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

double length_from(const std::vector<Stretch>& stretches, double begin) {
  double least = infinity;
  for (const Stretch& stretch : stretches)
    if (stretch.upper >= begin) least = std::min(least, std::max(0.0, stretch.lower - begin));
  return least;
}

}  // namespace

std::vector<Stroke> shortest_strokes(std::span<const std::vector<Stretch>> served) {
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  std::vector<Stroke> best(served.size(), Stroke{none, infinity});
  std::vector<double> begins;
  for (const auto& stretches : served)
    for (const Stretch& stretch : stretches) begins.push_back(stretch.upper);
  std::sort(begins.begin(), begins.end());
  begins.erase(std::unique(begins.begin(), begins.end()), begins.end());
  std::vector<double> lengths(served.size());
  for (const double begin : begins) {
    std::transform(served.begin(), served.end(), lengths.begin(), [&](const auto& stretches) { return length_from(stretches, begin); });
    std::sort(lengths.begin(), lengths.end());
    for (std::size_t k = 0; k < lengths.size(); ++k)
      if (lengths[k] < best[k].length) best[k] = {begin, lengths[k]};
  }
  for (Stroke& stroke : best)
    if (stroke.length == infinity) stroke.length = none;
  return best;
}

}  // namespace armwright
