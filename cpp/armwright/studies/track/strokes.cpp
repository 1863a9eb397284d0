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

namespace {

int served_from(std::span<const std::vector<Stretch>> served, double lower, double upper) {
  return static_cast<int>(std::count_if(served.begin(), served.end(), [&](const auto& stretches) {
    return std::any_of(stretches.begin(), stretches.end(), [&](const Stretch& s) { return s.upper >= lower && s.lower <= upper; });
  }));
}

}  // namespace

Placed place_stroke(std::span<const std::vector<Stretch>> served, double length, double first, double last) {
  const double highest = std::max(first, last - length);
  std::vector<double> changes{first, highest};
  for (const auto& stretches : served)
    for (const Stretch& stretch : stretches)
      for (const double at : {stretch.lower - length, stretch.upper})
        if (at > first && at < highest) changes.push_back(at);
  std::sort(changes.begin(), changes.end());
  Placed best{first, -1};
  double widest = -1;
  const auto take = [&](double from, double to, int count) {
    if (count < best.count || (count == best.count && to - from <= widest)) return;
    widest = to - from;
    best = {0.5 * (from + to), count};
  };
  for (const double at : changes) take(at, at, served_from(served, at, at + length));
  // Stretches of places side by side that serve as many are one.
  double from = changes.front();
  for (std::size_t k = 0; k + 1 < changes.size(); ++k) {
    const double middle = 0.5 * (changes[k] + changes[k + 1]);
    const int here = served_from(served, middle, middle + length);
    if (k == 0 || here != served_from(served, 0.5 * (changes[k - 1] + changes[k]), 0.5 * (changes[k - 1] + changes[k]) + length)) from = changes[k];
    take(from, changes[k + 1], here);
  }
  return best;
}

}  // namespace armwright
