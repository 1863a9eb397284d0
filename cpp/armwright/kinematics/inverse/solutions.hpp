#pragma once

#include <array>
#include <cmath>
#include <cstdint>

namespace armwright {

inline constexpr int max_solutions = 16;  // a six-joint revolute arm has no more (Primrose 1986; Lee and Liang 1988)

/// One answer of an inverse method: joint values, and the joint that was free to turn, if the posture was degenerate
/// (a whole circle of answers; the one given is a representative).
struct Solution {
  std::array<double, 6> q{};  ///< rad, in [-pi, pi]
  std::int8_t free_joint = -1;
};

struct Solutions {
  int count = 0;
  std::array<Solution, max_solutions> solution;

  void add(const Solution& s) {
    if (count < max_solutions) solution[static_cast<std::size_t>(count++)] = s;
  }
};

inline constexpr double same_answer = 1e-6;  ///< rad: answers closer than this in every joint count as one

/// The angle less whole turns, rad in [-pi, pi].
inline double wrapped(double angle) {
  constexpr double turn = 6.283185307179586476925;
  return angle - turn * std::nearbyint(angle / turn);
}

/// Whether two answers are the same up to whole turns.
inline bool same(const Solution& a, const Solution& b, double apart = same_answer) {
  for (std::size_t i = 0; i < 6; ++i) {
    if (std::fabs(wrapped(a.q[i] - b.q[i])) > apart) return false;
  }
  return true;
}

/// Adds an answer unless it is there already. Of two answers that count as one the first stays; if either is known
/// to have a free joint, so has what stays.
inline void add_distinct(Solutions& out, const Solution& s) {
  for (int k = 0; k < out.count; ++k) {
    Solution& there = out.solution[static_cast<std::size_t>(k)];
    if (!same(there, s)) continue;
    if (there.free_joint < 0) there.free_joint = s.free_joint;
    return;
  }
  out.add(s);
}

}  // namespace armwright
