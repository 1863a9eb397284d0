#pragma once

#include <array>
#include <cstddef>

#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/model/chain_steps.hpp"

namespace armwright {

/// At most six joints in a row, turning or sliding, told by their axes with all joints at zero, in the chain's base frame:
/// X(q) = E1(q1) ... En(qn) · end, where Ei turns about (or slides along) axis i as it stands at zero.
struct AxisChain {
  std::size_t count = 0;
  std::array<JointAxis, 6> axis{};
  Pose end = identity_pose;
  double size = 1;  ///< m: weighs turning against sliding
};

using JointValues = std::array<double, 6>;  ///< rad and m

/// Joint vectors that may be answers, or nearly; still to be fitted and checked.
struct Candidates {
  static constexpr int capacity = 256;
  int count = 0;
  std::array<JointValues, capacity> q;

  void add(const JointValues& values) {
    if (count < capacity) q[static_cast<std::size_t>(count++)] = values;
  }
};

/// Ei(value).
Pose moved_by(const JointAxis& axis, double value);

Pose axis_chain_end(const AxisChain& chain, const double* q);

/// The length of the links between the axes, at least 1 mm.
double size_of(const AxisChain& chain);

/// The chain walked from its end: joint i of the result is joint n+1-i, with the same value; its end pose is the inverse.
AxisChain reversed(const AxisChain& chain);

/// The chain without joint `which`, which stands still at `value`.
AxisChain without(const AxisChain& chain, std::size_t which, double value);

/// Rank of the Jacobian at a posture; 6 rows, lengths in units of `size`.
std::size_t rank_at(const AxisChain& chain, const double* q);

/// The best rank over a few postures that are nothing special.
std::size_t usual_rank(const AxisChain& chain);

/// Motions that do not move the end, or hardly (less than `still`; units of size and rad): for joint j the row j of the
/// projection onto them. Returns how far the stillest moves it.
struct StillMotions {
  double least = 1;
  std::array<JointValues, 6> of{};  ///< symmetric, slides in units of size
};
StillMotions still_motions(const AxisChain& chain, const double* q, double still);

/// Least squares on the exact chain (Levenberg and Marquardt); joint `held` keeps its value. q becomes the nearest posture
/// found; revolute values in [-pi, pi]. Returns whether it holds the pose within what polish.hpp accepts.
bool fit(const AxisChain& chain, const Pose& target, JointValues& q, int most_steps = 40, int held = -1);

/// Whether two joint vectors are the same up to whole turns: rad, and m in units of `size`.
bool same(const AxisChain& chain, const JointValues& a, const JointValues& b, double apart);

}  // namespace armwright
