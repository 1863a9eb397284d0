#include "armwright/limits/axis_sum.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/dynamics/gravity_of.hpp"

namespace armwright {

namespace {

constexpr double pi = 3.141592653589793;

// What lies before the first joint that counts only turns gravity for it, so that parallel neighbours there are one joint:
// else a whole line of postures would be equally bad, and every piece of it had to be looked into.
void merge_parallels(AxisSum& sum) {
  const Model& model = sum.model;
  std::size_t first = 0;
  while (first < sum.terms.n && sum.weight[first] == 0) ++first;
  for (std::size_t j = 0; j + 1 <= first && j + 1 < sum.terms.n; ++j) {
    const JointStep& step = model.step[j + 1];
    const bool both_turn = model.step[j].kind == JointKind::revolute && step.kind == JointKind::revolute;
    if (!both_turn || std::fabs(step.sin_alpha) > 1e-12 || (j + 1 == first && !sum.springs[first].empty())) continue;
    MergedTurn turn{j, j + 1, step.cos_alpha > 0 ? 1.0 : -1.0, sum.terms.low[j], sum.terms.high[j], sum.terms.low[j + 1], sum.terms.high[j + 1]};
    double low = turn.into_low + std::fmin(turn.sense * turn.from_low, turn.sense * turn.from_high);
    double high = turn.into_high + std::fmax(turn.sense * turn.from_low, turn.sense * turn.from_high);
    const double middle = 0.5 * (low + high);
    low = std::fmax(low, middle - pi), high = std::fmin(high, middle + pi);
    sum.terms.low[j] = sum.terms.high[j] = 0;
    sum.terms.low[j + 1] = low, sum.terms.high[j + 1] = high;
    sum.merged.push_back(turn);
  }
}

}  // namespace

AxisSum axis_sum(const Model& model, const Inertia& load, std::size_t axis) {
  AxisSum sum{model, load, holding_terms(model, load), {}, {}, 0, {}, {}};
  const std::size_t n = model.joint_count;
  for (std::size_t i = 0; i < n; ++i) sum.weight[i] = model.coupling.none() ? (i == axis ? 1.0 : 0.0) : model.coupling.matrix[i * n + axis];
  for (std::size_t i = 0; i < n; ++i) {
    if (sum.weight[i] == 0) continue;
    for (std::size_t j = 0; j < n; ++j)
      for (std::size_t k = 0; k < n; ++k) sum.bend[j * n + k] += std::fabs(sum.weight[i]) * second_slope(model, sum.terms, i, j, k);
    for (const Spring& spring : model.springs) {
      if (only_joint_of(model, spring) == i) sum.springs[i].push_back(spring_at_joint(model, spring, i));
      else sum.apart += std::fabs(sum.weight[i]) * spring_most(model, spring, i);
    }
  }
  merge_parallels(sum);
  return sum;
}

JointRow spread_out(const AxisSum& sum, JointRow q) {
  for (std::size_t m = sum.merged.size(); m-- > 0;) {
    const MergedTurn& turn = sum.merged[m];
    const double a = turn.sense > 0 ? turn.from_low : turn.from_high, b = turn.sense > 0 ? turn.from_high : turn.from_low;
    const double low = turn.into_low + turn.sense * a, high = turn.into_high + turn.sense * b;
    const double share = high > low ? std::clamp((q[turn.into] - low) / (high - low), 0.0, 1.0) : 0;
    q[turn.from] = a + share * (b - a);
    q[turn.into] = turn.into_low + share * (turn.into_high - turn.into_low);
  }
  return q;
}

double total_torque(const AxisSum& sum, const JointRow& q) {
  Pose frames[max_joints];
  double torque[max_joints], total = 0;
  const JointRow posture = spread_out(sum, q);
  joint_frames(sum.model, posture.data(), frames);
  gravity_of(sum.model, sum.load, frames, torque);
  for (std::size_t i = 0; i < sum.model.joint_count; ++i) total += sum.weight[i] * torque[i];
  return total;
}

}  // namespace armwright
