#include "armwright/kinematics/inverse/arm_inverse.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "armwright/kinematics/chain.hpp"
#include "armwright/kinematics/inverse/freedoms.hpp"
#include "armwright/kinematics/inverse/kin_arms.hpp"
#include "armwright/kinematics/inverse/setup.hpp"
#include "armwright/kinematics/joint_range.hpp"
#include "armwright/model/chain_steps.hpp"

namespace armwright {

namespace {

double middle(const Model& model, std::size_t joint) {
  const double m = 0.5 * (model.lower[joint] + model.upper[joint]);
  return std::isfinite(m) ? m : 0;
}

bool is_redundant(const ArmInverse& inverse, std::size_t joint) {
  return std::find(inverse.redundant.begin(), inverse.redundant.end(), joint) != inverse.redundant.end();
}

// The model's frames with the redundant joints held and the others at zero.
std::array<Pose, max_joints> frames_held(const ArmInverse& inverse, std::span<const double> redundant) {
  std::array<double, max_joints> q{};
  for (std::size_t r = 0; r < inverse.redundant.size(); ++r) q[inverse.redundant[r]] = redundant[r];
  std::array<Pose, max_joints> frames;
  joint_frames(inverse.model, q.data(), frames.data());
  return frames;
}

HeldArm held_arm(std::span<const double> redundant, const Pose& base, std::span<const JointStep> steps, const Pose& end) {
  HeldArm arm{{redundant.begin(), redundant.end()}, base, nullptr, nullptr};
  const bool all_turn = std::all_of(steps.begin(), steps.end(), [](const JointStep& step) { return step.kind == JointKind::revolute; });
  if (steps.size() == 6 && all_turn) {
    SixChain chain;
    std::copy(steps.begin(), steps.end(), chain.step.begin());
    chain.end = end;
    arm.six = std::make_shared<const InverseSetup>(prepare_inverse(chain));
  } else {
    FewChain chain;
    chain.joint_count = steps.size();
    std::copy(steps.begin(), steps.end(), chain.step.begin());
    chain.end = end;
    arm.few = std::make_shared<const FewSetup>(prepare_few(chain));
  }
  return arm;
}

void solve_held(const HeldArm& arm, const Pose& wanted, Solutions& out, double free_value = 0) {
  if (arm.six) solve_six(*arm.six, wanted, out, free_value);
  else solve_few(*arm.few, wanted, out, free_value);
}

// A joint held between others moves the axes beyond it, so that the steps are found anew.
HeldArm hold_between(const ArmInverse& inverse, std::span<const double> redundant) {
  const auto frames = frames_held(inverse, redundant);
  std::array<JointAxis, max_joints> axes;
  for (std::size_t i = 0; i < inverse.solved.size(); ++i) {
    const Pose& frame = frames[inverse.solved[i]];
    axes[i] = {frame.position, frame.rotation.z, inverse.model.step[inverse.solved[i]].kind};
  }
  const ChainSteps steps = steps_along({axes.data(), inverse.solved.size()});
  const std::size_t n = inverse.solved.size();
  const Pose end = armwright::inverse(steps.frame[n - 1]) * (frames[inverse.model.joint_count - 1] * inverse.model.tool);
  return held_arm(redundant, steps.base, {steps.step.data(), n}, end);
}

Pose base_of_solved(const ArmInverse& inverse, std::span<const double> redundant) {
  Pose frame = inverse.model.base;
  for (std::size_t i = 0; i < inverse.redundant.size(); ++i) advance(inverse.model.step[i], redundant[i], frame);
  return frame;
}

std::vector<double> middles(const ArmInverse& inverse) {
  std::vector<double> values;
  for (const std::size_t joint : inverse.redundant) values.push_back(middle(inverse.model, joint));
  return values;
}

void choose_solved(ArmInverse& inverse) {
  inverse.solved.clear();
  for (std::size_t i = 0; i < inverse.model.joint_count; ++i)
    if (!is_redundant(inverse, i)) inverse.solved.push_back(i);
  inverse.base_only = true;
  for (std::size_t r = 0; r < inverse.redundant.size(); ++r) inverse.base_only = inverse.base_only && inverse.redundant[r] == r;
}

// How easy the rest is to solve with that joint held as well: closed forms before the general method, for the joint
// at several values, so that no chance alignment at one of them decides.
int difficulty(const ArmInverse& inverse, std::size_t joint) {
  ArmInverse trial = inverse;
  trial.redundant.push_back(joint);
  std::sort(trial.redundant.begin(), trial.redundant.end());
  choose_solved(trial);
  if (trial.solved.size() != 6) return 0;
  int worst = 0;
  for (const double shift : {0.0, 0.37, -0.61}) {
    auto values = middles(trial);
    values[static_cast<std::size_t>(std::find(trial.redundant.begin(), trial.redundant.end(), joint) - trial.redundant.begin())] += shift;
    const HeldArm held = hold_between(trial, values);
    worst = std::max(worst, static_cast<int>(held.six ? held.six->family : ArmFamily::few_joints));
  }
  return worst;
}

// Whether the joint is solved, and those that are have as many freedoms without it.
bool is_idle(const ArmInverse& inverse, std::size_t joint) {
  auto others = inverse.solved;
  return std::erase(others, joint) > 0 && !others.empty() && freedoms(inverse.model, others) == freedoms(inverse.model, inverse.solved);
}

void give(ArmInverse& inverse, std::size_t joint) {
  inverse.redundant.push_back(joint);
  std::sort(inverse.redundant.begin(), inverse.redundant.end());
  choose_solved(inverse);
}

// Of the joints to be solved, too many: before a wrist of three axes that meet, the idle one nearest to it; else the one
// whose holding leaves the easiest family, and one that takes a freedom away only if all do.
std::size_t easiest_to_hold(const ArmInverse& inverse) {
  if (ends_in_spherical_wrist(inverse.model, inverse.solved)) {
    for (std::size_t k = inverse.solved.size() - 3; k-- > 0;)
      if (is_idle(inverse, inverse.solved[k])) return inverse.solved[k];
  }
  std::size_t best = inverse.solved.front();
  int least = std::numeric_limits<int>::max();
  for (const std::size_t joint : inverse.solved) {
    const int hard = difficulty(inverse, joint) + (is_idle(inverse, joint) ? 0 : 1000);
    if (hard < least) least = hard, best = joint;
  }
  return best;
}

void choose_redundant(ArmInverse& inverse) {
  choose_solved(inverse);
  for (const std::size_t joint : sliding_first(inverse.model)) {
    if (inverse.solved.size() <= 6 || inverse.model.step[joint].kind != JointKind::prismatic) break;
    if (is_idle(inverse, joint)) give(inverse, joint);
  }
  while (inverse.solved.size() > 6) give(inverse, easiest_to_hold(inverse));
  // Joints that add no freedom: a track under an arm that moves along it by itself, a fourth joint in one plane.
  for (const std::size_t joint : sliding_first(inverse.model))
    if (is_idle(inverse, joint)) give(inverse, joint);
}

// The angle shifted by whole turns into the range, next to its middle; if none fits, next to the range.
double shifted(double angle, double lower, double upper) {
  constexpr double turn = 2 * std::numbers::pi, turns = 1 / turn;
  if (!std::isfinite(lower) || !std::isfinite(upper)) {
    if (angle < lower) return angle + turn * std::ceil((lower - angle) / turn);
    if (angle > upper) return angle - turn * std::ceil((angle - upper) / turn);
    return angle;
  }
  return angle - turn * detail::nearest((angle - 0.5 * (lower + upper)) * turns);
}

// A posture at a limit is within it: rounding must not put it out. Ten metres of reach move by 1e-10 m at most.
double into_range(double angle, double lower, double upper) {
  constexpr double rounding = 1e-11;  // rad
  const double found = shifted(angle, lower, upper);
  if (found < lower && found > lower - rounding) return lower;
  if (found > upper && found < upper + rounding) return upper;
  return found;
}

// The answer for all joints, each within its range where whole turns allow.
ArmSolution whole(const ArmInverse& inverse, const HeldArm& arm, const Solution& found) {
  ArmSolution answer;
  for (std::size_t r = 0; r < inverse.redundant.size(); ++r) answer.q[inverse.redundant[r]] = arm.held[r];
  for (std::size_t i = 0; i < inverse.solved.size(); ++i) {
    const std::size_t joint = inverse.solved[i];
    const bool turns = inverse.model.step[joint].kind == JointKind::revolute;
    answer.q[joint] = turns ? into_range(found.q[i], inverse.model.lower[joint], inverse.model.upper[joint]) : found.q[i];
  }
  if (found.free_joint >= 0) answer.free_joint = static_cast<std::int8_t>(inverse.solved[static_cast<std::size_t>(found.free_joint)]);
  return answer;
}

// A joint that is free to turn stands at zero; where that puts it or its partner past a limit, other values are tried,
// and of those the best takes its place.
void settle_free_joint(const ArmInverse& inverse, const HeldArm& arm, const Pose& wanted, ArmSolution& answer) {
  double margin = limit_margin(inverse.model, answer.q.data());
  if (margin >= 0) return;
  constexpr int tries = 24;
  Solutions found;
  for (int k = 1; k < tries; ++k) {
    solve_held(arm, wanted, found, 2 * std::numbers::pi * k / tries);
    for (int i = 0; i < found.count; ++i) {
      const ArmSolution other = whole(inverse, arm, found.solution[static_cast<std::size_t>(i)]);
      const double its = limit_margin(inverse.model, other.q.data());
      if (other.free_joint != answer.free_joint || its <= margin) continue;
      // The same branch: the joints that the free one does not concern stay as they are.
      const std::size_t first = inverse.solved.front() == static_cast<std::size_t>(answer.free_joint) ? inverse.solved.back() : inverse.solved.front();
      if (std::fabs(wrapped(other.q[first] - answer.q[first])) > same_answer) continue;
      answer = other;
      margin = its;
    }
  }
}

}  // namespace

ArmInverse prepare_arm_inverse(const Model& model, bool give_track) {
  ArmInverse inverse;
  inverse.model = model;
  if (give_track && model.has_track) give(inverse, 0);
  choose_redundant(inverse);
  const auto values = middles(inverse);
  if (inverse.base_only) {
    inverse.usual = held_arm(values, base_of_solved(inverse, values), {model.step.data() + inverse.redundant.size(), inverse.solved.size()}, model.tool);
  } else {
    inverse.usual = hold_between(inverse, values);
  }
  inverse.kin = std::make_shared<KinArms>();
  return inverse;
}

std::shared_ptr<const ArmInverse> with_track_given(const std::shared_ptr<const ArmInverse>& inverse) {
  if (!inverse->model.has_track || inverse->redundant == std::vector<std::size_t>{0}) return inverse;
  const auto& given = inverse->kin->track_given.made([&]() -> std::shared_ptr<const ArmInverse> {
    auto other = std::make_shared<const ArmInverse>(prepare_arm_inverse(inverse->model, true));
    return other->redundant == inverse->redundant ? nullptr : other;
  });
  return given ? given : inverse;
}

ArmInverse with_track_held(const ArmInverse& inverse) {
  ArmInverse held = inverse;
  if (!inverse.model.has_track) return held;
  held.model = held_on_track(inverse.model, middle(inverse.model, 0));
  held.kin = std::make_shared<KinArms>();
  return held;
}

std::vector<std::size_t> redundant_joints(const Model& model) {
  ArmInverse inverse;
  inverse.model = model;
  choose_redundant(inverse);
  return inverse.redundant;
}

int most_solutions(const ArmInverse& inverse) {
  return inverse.base_only && inverse.usual.six && inverse.usual.six->family != ArmFamily::general ? 8 : max_solutions;
}

HeldArm hold(const ArmInverse& inverse, std::span<const double> redundant) {
  if (!inverse.base_only) return hold_between(inverse, redundant);
  return {{redundant.begin(), redundant.end()}, base_of_solved(inverse, redundant), inverse.usual.six, inverse.usual.few};
}

void solve_arm(const ArmInverse& inverse, const HeldArm& arm, const Pose& target, ArmSolutions& out) {
  const Pose wanted = armwright::inverse(arm.base) * target;
  Solutions found;
  solve_held(arm, wanted, found);
  out.count = found.count;
  for (std::size_t k = 0; k < static_cast<std::size_t>(found.count); ++k) {
    out.solution[k] = whole(inverse, arm, found.solution[k]);
    if (out.solution[k].free_joint >= 0) settle_free_joint(inverse, arm, wanted, out.solution[k]);
  }
}

}  // namespace armwright
