#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "armwright/model/model.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// The most that one axis has to hold at rest, over the whole range of all joints.
struct WorstHolding {
  double bound = 0;   ///< |torque| is nowhere more, N m (N where it slides); proven, but for rounding. Infinite: no bound
  double found = 0;   ///< the most that was found, N m
  std::array<double, max_joints> q{};  ///< where
  bool springs_counted = true;  ///< springs that turn with this axis alone are in the bound as they are; others are bounded apart
  std::int64_t boxes = 0;       ///< that were looked into
};

struct HoldingOptions {
  double gap = 0.005;               ///< ends when bound ≤ found · (1 + gap)
  double small = 1e-5;              ///< or bound − found ≤ small · the longest mass moment of the arm times gravity
  std::int64_t most_boxes = 400000; ///< an axis; then the bound reached so far stands
};

/// Worst torque at rest of each of `axes` (see Coupling) with `load` (in the last joint frame): branch and bound over boxes of the
/// joint ranges (A. Land, A. Doig, Econometrica 28, 1960). In a box of half-widths h about c
///   |τ(q) − τ(c)| ≤ Σ |∂τ/∂q_j (c)| h_j + ½ Σ B_jk h_j h_k,
/// where B bounds the second derivatives over all postures: τ is the slope of the weights' energy, whose derivatives are
/// sums of nested cross products of axes with mass moments, none longer than its lever arms laid end to end. Springs that span
/// this joint alone come in by intervals of their own; of the others their strongest pull at their longest lever is added.
/// Parallel neighbours before the axis turn gravity as one joint, and are taken as one. Joints without ends count as turning once; a sliding joint without ends gives no bound where it matters.
bool worst_holding(const Model& model, const Inertia& load, std::span<const std::size_t> axes, const HoldingOptions& options, unsigned threads,
                   const Progress& progress, std::vector<WorstHolding>& out);

/// What a brake holds at its axis, N m (N).
struct BrakeHold {
  bool present = false;
  double by_ratio = 0;     ///< torque × ratio: the conservative figure; friction and losses, which help, not counted
  double driven_back = 0;  ///< over the efficiency of the stages between brake and axis when driven back
};
BrakeHold brake_hold(const Model& model, std::size_t axis);

}  // namespace armwright
