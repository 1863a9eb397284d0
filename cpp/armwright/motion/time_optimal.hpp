#pragma once

#include <span>

#include "armwright/motion/path_limits.hpp"

namespace armwright {

/// Speeds along a path from rest to rest: x = ṡ² at every row, and s̈ between each row and the next, constant there.
struct PathTiming {
  std::vector<double> x, u;  ///< rows; rows − 1
  double duration = 0;       ///< s
};

/// Why there is none.
struct TimingStop {
  enum class Cause : std::int8_t {
    none,
    cannot_stand,   ///< the arm cannot hold itself at a row
    cannot_move,    ///< it can stand there but not go on, however slowly
    unbounded       ///< no limit keeps it from going infinitely fast
  } cause = Cause::none;
  std::size_t row = 0;
  NamedLimit limit;   ///< the worst of those that stand in the way
  bool good() const { return cause == Cause::none; }
};

/// As fast as every limit allows at every row. Backward pass: the greatest ṡ² at each row from which the rest of the path can be
/// kept; forward pass: the greatest s̈ that stays below (reachability analysis: H. Pham, Q.-C. Pham, "A New Approach to
/// Time-Optimal Path Parameterization Based on Reachability Analysis", IEEE Trans. Robotics 34(3), 2018), here with the exact limits
/// instead of their linear shadows: at both ends of every interval s̈ is within allowed(), the search is in ṡ² alone. Where all limits are straight lines in (ṡ², s̈) the
/// edge is stepped onto instead (straight_limits.hpp). `s`: the rows' parameters.
TimingStop time_optimal(const PathLimits& limits, std::span<const double> s, PathTiming& out);

/// Time between two rows, s.
double interval_time(double width, double x_before, double x_after);

}  // namespace armwright
