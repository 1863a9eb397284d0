#pragma once

#include <array>

#include "armwright/kinematics/inverse/six_chain.hpp"

namespace armwright {

/// Three revolute joints of a chain, whose turns are to give the end frame's attitude while all other joints stand.
struct TurnTriple {
  std::array<std::size_t, 3> joint{};
};

struct TurnAnswers {
  int count = 0;
  bool free = false;  ///< first and last axis in line: only the sum of their turns is told; the first is left as it was
  std::array<std::array<double, 6>, 2> q{};
};

/// Up to two answers; the other joints as in q. W = A0 Rz(t1) A1 Rz(t2) A2 Rz(t3) A3: the angle between axes 1 and 3
/// tells t2. Where that angle is out of reach by less than `slack` (a cosine), the nearest is taken.
TurnAnswers solve_turns(const SixChain& chain, const TurnTriple& triple, const Rotation& attitude,
                        const std::array<double, 6>& q, double slack);

/// sin(angle 1-2) sin(angle 2-3): how well the triple commands the attitude, 1 at best.
double command_of(const SixChain& chain, const TurnTriple& triple, const std::array<double, 6>& q);

}  // namespace armwright
