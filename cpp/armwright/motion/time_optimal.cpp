#include "armwright/motion/time_optimal.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/motion/straight_limits.hpp"

namespace armwright {

namespace {

constexpr double close = 1e-9;      // share to which ṡ² is found, always from below

struct Search {
  const PathLimits& limits;
  std::span<const double> s;
  std::vector<double> most;  // of ṡ², row by row: what the backward pass finds

  /// By how much s̈ = (y − x) / (2 ds) is outside of what the next row allows at ṡ² = y, times 2 ds. Convex in y but for the roots
  /// in viscous friction and in the curves.
  double excess(std::size_t row, double x, double y) const {
    const double width = 2 * (s[row + 1] - s[row]);
    const Allowed there = allowed(limits, row + 1, y);
    return std::max(y - x - width * there.greatest, x + width * there.least - y);
  }

  /// From `x` at a row, the greatest ṡ² at the next row, at most `ceiling`, that is allowed at both ends. A negative answer: none is; by how much.
  double next(std::size_t row, double x, double ceiling, const Allowed& here, double& reached) const {
    const double width = 2 * (s[row + 1] - s[row]);
    if (here.empty()) return std::isfinite(here.greatest) ? width * (here.greatest - here.least) : -unlimited;
    const double floor = std::max(0.0, x + width * here.least);
    double y = std::min(ceiling, x + width * here.greatest);
    if (y < floor * (1 - limit_rounding)) return y - floor;
    // Newton's steps from above come down to the greatest root of a convex function and do not pass it.
    double low = -1, high = unlimited;
    for (int step = 0; step < 60; ++step) {
      const double slack = limit_rounding * (y + x), off = excess(row, x, y);
      if (off <= slack) {
        low = y;
        if (high == unlimited || off > -100 * slack || high - low <= slack) break;
        y = 0.5 * (low + high);
        continue;
      }
      high = y;
      if (low >= 0 && high - low <= slack) break;
      const double step_down = 1e-7 * (y + x), slope = (off - excess(row, x, y - step_down)) / step_down;
      double guess = y - off / slope;
      if (!std::isfinite(off)) guess = 0.5 * (y + std::max(floor, low));
      else if (!(slope > 0) || y <= floor) return -off;
      if (low >= 0 && !(guess > low)) guess = 0.5 * (low + high);
      y = std::max(guess, floor);
      if (high <= y) return -off;
    }
    if (low < 0) return -high;
    reached = low;
    return 0;
  }

  /// How far `x` is from being controllable at a row: not negative if it is.
  double margin(std::size_t row, double x) const {
    double reached = 0;
    return next(row, x, most[row + 1], allowed(limits, row, x), reached);
  }

  /// The greatest controllable ṡ² at a row; negative if not even 0 is.
  double greatest(std::size_t row) const {
    const double width = 2 * (s[row + 1] - s[row]), cap = limits.greatest[row], last = most[row + 1];
    // What comes down to the greatest ṡ² of the next row by its own limits; where a smaller one there can be reached from a
    // greater one here, that is no bound.
    const double onto_last = last - width * allowed(limits, row + 1, last).least;
    const double below = last * (1 - 1e-6);
    const bool bounds = last <= 0 || below - width * allowed(limits, row + 1, below).least <= onto_last;
    double high = bounds ? std::min(cap, onto_last) : std::min(cap, 4 * std::max(onto_last, last));
    if (!std::isfinite(high)) high = std::isfinite(last) && last > 0 ? 16 * last : 1e12;
    double off_high = margin(row, high);
    if (off_high >= 0) return high;
    double low = 0;
    bool aimed = false;
    double guess = last - width * allowed(limits, row, high).least;  // one fixed-point step
    for (int step = 0; step < 100 && high - low > close * high; ++step) {
      if (!(guess > low && guess < high)) guess = 0.5 * (low + high);
      const double off = margin(row, guess);
      if (off >= 0) {
        low = guess;  // if the line aimed well, the edge is right above
        guess = aimed ? guess * (1 + 0.9 * close) : 0.5 * (guess + high);
        aimed = false;
      } else {
        // The line through the two nearest failures aims at the edge; just within it is aimed for.
        const double slope = (off_high - off) / (high - guess);
        const double edge = std::isfinite(slope) && slope < 0 ? guess - off / slope : 0.5 * (low + guess);
        high = guess, off_high = off, aimed = true;
        guess = edge - 0.5 * close * std::fabs(edge);
      }
    }
    return low > 0 || margin(row, 0) >= 0 ? low : -1;
  }
};

// Both passes by search, for limits of any form. As straight_backward() and straight_forward().
std::size_t searched_backward(Search& search, std::size_t rows) {
  for (std::size_t row = rows - 1; row-- > 1;) {
    search.most[row] = search.greatest(row);
    if (search.most[row] <= 0) return row;
  }
  return 0;
}

std::size_t searched_forward(const Search& search, std::span<double> x) {
  for (std::size_t row = 0; row + 1 < x.size(); ++row) {
    double reached = 0;
    const double off = search.next(row, x[row], search.most[row + 1], allowed(search.limits, row, x[row]), reached);
    if (off < 0 || (row + 2 < x.size() && reached <= 0)) return row;
    x[row + 1] = reached;
  }
  return x.size() - 1;
}

bool free_to_gain(const PathLimits& limits, std::size_t row, const std::vector<double>& x) {
  return !std::isfinite(allowed(limits, row, x[row]).greatest) && !std::isfinite(allowed(limits, row + 1, x[row + 1]).greatest);
}

}  // namespace

double interval_time(double width, double x_before, double x_after) {
  const double sum = std::sqrt(x_before) + std::sqrt(x_after);
  return sum > 0 ? 2 * width / sum : unlimited;
}

TimingStop time_optimal(const PathLimits& limits, std::span<const double> s, PathTiming& out) {
  const std::size_t rows = s.size();
  out = {};
  for (std::size_t row = 0; row < rows; ++row) {
    const NamedLimit held = standing(limits, row);
    if (held.use > 1) return {TimingStop::Cause::cannot_stand, row, held};
  }
  const bool by_lines = limits_are_straight(limits);
  StraightLimits lines = by_lines ? straight_limits(limits) : StraightLimits{};
  Search search{limits, s, std::vector<double>(rows, 0.0)};
  const std::size_t stuck = by_lines ? straight_backward(limits, s, lines, search.most) : searched_backward(search, rows);
  if (stuck > 0) return {TimingStop::Cause::cannot_move, stuck, most_used(limits, stuck, 0, 0)};
  out.x.assign(rows, 0.0);
  out.u.assign(rows - 1, 0.0);
  const std::size_t end = by_lines ? straight_forward(lines, s, search.most, out.x) : searched_forward(search, out.x);
  for (std::size_t row = 0; row < end; ++row) {
    const double width = s[row + 1] - s[row];
    out.u[row] = (out.x[row + 1] - out.x[row]) / (2 * width);
    out.duration += interval_time(width, out.x[row], out.x[row + 1]);
    const bool unbounded = by_lines ? !lines.bounded[row] && !lines.bounded[row + 1] : free_to_gain(limits, row, out.x);
    if (unbounded) return {TimingStop::Cause::unbounded, row, {}};
  }
  if (end + 1 < rows) return {TimingStop::Cause::cannot_move, end, most_used(limits, end, out.x[end], 0)};
  return {};
}

}  // namespace armwright
