#include "armwright/kinematics/inverse/few_joints.hpp"

#include <cmath>

#include "armwright/kinematics/inverse/general/approach.hpp"
#include "armwright/kinematics/inverse/general/degenerate.hpp"
#include "armwright/kinematics/inverse/general/search.hpp"
#include "armwright/kinematics/inverse/inverse.hpp"
#include "armwright/kinematics/inverse/polish.hpp"

namespace armwright {

namespace {

constexpr double near_zero = 1e-2;  // rad: a joint that is to stay at 0 may be off by that before the last steps

using Posture = std::array<double, 6>;

// From a posture near an answer of the whole chain, joints that are to stay at 0 included, to the answer.
bool reach(const FewSetup& setup, const Pose& target, unsigned held, Posture& q) {
  Posture tried = q;
  if (!bring_to(setup.chain, setup.size, target, held, tried)) {
    tried = q;
    if (!seek(setup.chain, setup.size, target, held, tried)) return false;
  }
  q = tried;
  return true;
}

// The last steps, with the joints that are not the arm's at 0.
void take(const FewSetup& setup, const Pose& target, Posture q, Solutions& out) {
  for (std::size_t i = setup.joint_count; i < 6; ++i) {
    if (std::fabs(wrapped(q[i])) > near_zero) return;
    q[i] = 0;
  }
  if (!reach(setup, target, setup.held, q)) return;
  Solution s;
  s.q = q;
  add_answer(setup.chain, out, s);
}

void solve_newton(const FewSetup& setup, const Pose& target, Solutions& out) {
  for (int k = 0; k < 96 && out.count < max_solutions; ++k) {
    Posture q = trial_posture(setup.ring, k);
    for (std::size_t i = setup.joint_count; i < 6; ++i) q[i] = 0;
    if (!seek(setup.chain, setup.size, target, setup.held, q)) continue;
    take(setup, target, q, out);
  }
}

// Revolute joints at places and angles without a meaning, so that they command what the arm does not. The first goes
// through the foot of the last axis but one on the last: where these meet, the three make a spherical wrist.
void pad(const FewChain& given, FewSetup& setup) {
  SixChain& chain = setup.chain;
  chain.base = given.base;
  double length = 0;
  for (std::size_t i = 0; i < given.joint_count; ++i) {
    chain.step[i] = given.step[i];
    if (i > 0) length += norm(given.step[i].offset);
  }
  setup.size = length > 0 ? 0.5 * length : 1;
  constexpr std::array<Vec3, 5> offset{Vec3{0, 0, 0}, Vec3{0.41, -0.23, 0.37}, Vec3{-0.35, 0.29, 0.31}, Vec3{0.27, 0.43, -0.19},
                                       Vec3{-0.31, -0.37, 0.23}};
  constexpr std::array<double, 5> alpha{1.13, -0.87, 1.37, -1.21, 0.93}, zero{0.3, 1.1, -0.7, 0.5, -1.3};
  Pose added = identity_pose;
  for (std::size_t i = given.joint_count; i < 6; ++i) {
    const std::size_t k = i - given.joint_count;
    JointStep& step = chain.step[i];
    step = {setup.size * offset[k], std::cos(alpha[k]), std::sin(alpha[k]), zero[k], std::cos(zero[k]), std::sin(zero[k]), JointKind::revolute};
    if (k == 0 && i >= 2) {
      const SixChain now = chain;
      const auto axis = chain_posture(now, Posture{}.data()).axis;
      const double along = dot(common_normal(axis[i - 2], axis[i - 1]).foot_b - axis[i - 1].point, axis[i - 1].direction);
      if (std::fabs(along) < 10 * setup.size) step.offset = {0, 0, along};
    }
    added = added * link_of(step) * Pose{turn_z(step.cos_zero, step.sin_zero), {0, 0, 0}};
    setup.held |= 1U << i;
  }
  chain.end = inverse(added) * given.end;
}

AxisChain axes_of(const FewSetup& setup) {
  const ChainPosture posture = chain_posture(setup.chain, Posture{}.data());
  AxisChain chain;
  chain.count = setup.joint_count;
  for (std::size_t i = 0; i < chain.count; ++i) chain.axis[i] = {posture.axis[i].point, posture.axis[i].direction, setup.chain.step[i].kind};
  chain.end = posture.end;
  return chain;
}

constexpr double useful = 0.5;  // share of the trial postures that a method must find

}  // namespace

FewSetup prepare_few(const FewChain& given) {
  FewSetup setup;
  setup.joint_count = given.joint_count;
  pad(given, setup);
  std::size_t turns = 0;
  for (std::size_t i = 0; i < 6; ++i) turns += !slides(setup.chain, i);
  setup.ring.chain = setup.chain;
  setup.ring.size = setup.size;
  if (const auto axes = prepare_axes(axes_of(setup))) {
    setup.axes = std::make_shared<const AxisSetup>(*axes);
    setup.method = FewMethod::axes;
    setup.complete = is_complete(*axes);
    return setup;
  }
  if (turns == 6) {
    auto six = std::make_shared<const InverseSetup>(prepare_inverse(setup.chain));
    const bool works = six->family != ArmFamily::general || six->general.missed[0] < useful;
    setup.six = std::move(six);
    setup.method = works ? FewMethod::six_revolute : FewMethod::newton;
  } else if (turns == 5) {
    setup.ring = prepare_general(setup.chain);
    setup.method = setup.ring.missed[0] < useful ? FewMethod::ring : FewMethod::newton;
  }
  for (std::size_t i = 0; i < 6; ++i) setup.ring.slides[i] = slides(setup.chain, i);
  setup.complete = setup.method != FewMethod::newton;
  if (setup.method == FewMethod::ring && setup.ring.doubted[0] > useful) setup.complete = false;
  return setup;
}

void solve_few(const FewSetup& setup, const Pose& target, Solutions& out, double free_value) {
  out.count = 0;
  if (setup.method == FewMethod::axes) return solve_axes(*setup.axes, nearest_square(target), free_value, out);
  Solutions raw;
  switch (setup.method) {
    case FewMethod::six_revolute:
    case FewMethod::ring:
      if (setup.method == FewMethod::ring) solve_general(setup.ring, target, raw, free_value);
      else solve_six(*setup.six, target, raw, free_value);
      for (int k = 0; k < raw.count; ++k) take(setup, target, raw.solution[static_cast<std::size_t>(k)].q, out);
      break;
    case FewMethod::newton: solve_newton(setup, target, out); break;
    case FewMethod::axes: break;
  }
  settle_degenerate(setup.chain, setup.size, target, free_value, out, setup.held);
}

}  // namespace armwright
