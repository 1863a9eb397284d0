#pragma once

#include <array>
#include <cstdint>

#include "armwright/support/lanes.hpp"

namespace armwright {

inline constexpr int max_solutions = 16;  // a six-joint revolute arm has no more (Primrose 1986; Lee and Liang 1988)

/// One answer of an inverse method: joint values, and the joint that was free to turn, if the posture was degenerate
/// (a whole circle of answers; the one given is a representative).
struct Solution {
  std::array<double, 6> q;  ///< rad, in (-pi, pi]
  std::int8_t free_joint = -1;
};

struct Solutions {
  int count = 0;
  std::array<Solution, max_solutions> solution;

  void add(const Solution& s) {
    if (count < max_solutions) solution[static_cast<std::size_t>(count++)] = s;
  }
};

}  // namespace armwright
