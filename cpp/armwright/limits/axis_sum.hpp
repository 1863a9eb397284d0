#pragma once

#include <array>
#include <vector>

#include "armwright/limits/holding_terms.hpp"
#include "armwright/limits/spring_bound.hpp"

namespace armwright {

using JointRow = std::array<double, max_joints>;

/// Two parallel neighbours before a joint turn gravity as one: `from` stands at 0 and `into` turns for both.
struct MergedTurn {
  std::size_t from, into;
  double sense;  ///< 1 or -1: how a turn of `from` counts in `into`
  double from_low, from_high, into_low, into_high;
};

/// One axis' torque at rest: a sum of joint torques, each less the springs that turn with that joint alone.
struct AxisSum {
  const Model& model;
  const Inertia& load;
  HoldingTerms terms;                          ///< ranges with what is merged
  JointRow weight{};                           ///< of every joint's torque in the axis'
  std::vector<SpringAtJoint> springs[max_joints];
  double apart = 0;                            ///< most that the other springs add
  std::array<double, max_joints * max_joints> bend{};  ///< bounds on the weights' second derivatives
  std::vector<MergedTurn> merged;
};

AxisSum axis_sum(const Model& model, const Inertia& load, std::size_t axis);

/// A posture of the arm for one of the merged joints.
JointRow spread_out(const AxisSum& sum, JointRow q);

/// The axis' torque with all springs at a posture of the merged joints.
double total_torque(const AxisSum& sum, const JointRow& q);

}  // namespace armwright
