#pragma once

#include <span>
#include <vector>

namespace armwright {

/// A stretch of the track, m.
struct Stretch {
  double lower, upper;
};

/// The shortest stroke from which that many work points are served, and where it begins.
struct Stroke {
  double lower, length;  ///< m; not a number where so many cannot be served
};

/// For each number of points from 1 to all the shortest stroke, exactly: as a stroke is moved up the track with its lower end at a, point i
/// needs a length of the least (lower end − a, or 0) over its stretches that end at a or above. That falls evenly with a but for jumps up where
/// a stretch ends, so that the shortest begins where some stretch ends, or else wherever the length is 0. Of several the one lowest on the track.
/// `served`: the stretches of each point, m.
std::vector<Stroke> shortest_strokes(std::span<const std::vector<Stretch>> served);

/// Where a stroke of a given length serves most points: in the middle of the widest stretch of places that do.
struct Placed {
  double lower;  ///< m
  int count;     ///< points served
};

/// Exactly: the count changes only where an end of a stretch comes in or goes out. The stroke stays between `first` and `last`, m, which
/// are at least its length apart.
Placed place_stroke(std::span<const std::vector<Stretch>> served, double length, double first, double last);

}  // namespace armwright
