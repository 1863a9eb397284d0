#pragma once

#include <memory>
#include <span>
#include <vector>

#include "armwright/motion/path_limits.hpp"
#include "armwright/support/lanes.hpp"

namespace armwright {

/// Whether every limit on s̈ is a pair of straight lines in (ṡ², s̈), and every row has a greatest ṡ²: joint accelerations and stated torques, no
/// drives with their curves, no tool acceleration.
bool limits_are_straight(const PathLimits& limits);

/// Straight limits |k s̈ + b ṡ² + g| <= T of a whole path, ready for one evaluation after the other: at ṡ² = x each is
///   |s̈ + shift + tilt x| <= half,    shift = g / k, tilt = b / k, half = T / |k|.
/// At row r those of its own, and those of the row after it at y = x + w s̈, w twice the interval: k + w b stands for k there.
/// Where k is nothing ṡ² alone is bounded.
struct StraightLimits {
  std::size_t accelerations = 0;       ///< joint accelerations among a row's limits; torques follow
  std::size_t packs = 0;               ///< a row's own, and as many of the row after it
  std::unique_ptr<Lanes[]> terms;      ///< rows × packs (own, then the next row's) × tilt, shift, half
  std::vector<double> greatest;        ///< rows: of ṡ²
  std::vector<char> bounded;           ///< rows: whether any of its own limits s̈
};

/// Room for limits that limits_are_straight(); straight_backward() fills it.
StraightLimits straight_limits(const PathLimits& limits);

/// The backward pass: the greatest ṡ² at each row from which the rest of the path can be kept, 0 at both ends. What s̈ may be at a row is
/// wedged between lines, and the wedge narrows to its edge convexly: Newton's steps in ṡ² from above end on it after a few. Returns the
/// row at which it ends: 0, or one where 0 is all that is found. `s`: the rows' parameters.
std::size_t straight_backward(const PathLimits& limits, std::span<const double> s, StraightLimits& lines, std::span<double> most);

/// The forward pass from x = 0 at row 0: at every row the greatest ṡ², at most `most`, that can be reached from the row before. Returns
/// the row from which none can: the last, if all is well.
std::size_t straight_forward(const StraightLimits& lines, std::span<const double> s, std::span<const double> most, std::span<double> x);

}  // namespace armwright
