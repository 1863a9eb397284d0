#include "armwright/kinematics/inverse/few_joints.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>

#include "armwright/kinematics/inverse/general/approach.hpp"
#include "armwright/kinematics/inverse/general/degenerate.hpp"
#include "armwright/kinematics/inverse/general/search.hpp"
#include "armwright/kinematics/inverse/inverse.hpp"
#include "armwright/kinematics/inverse/polish.hpp"

namespace armwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double near_zero = 1e-2;  // rad: a joint that is to stay at 0 may be off by that before the last steps

using Posture = std::array<double, 6>;

// The lengths of the prismatic joints that bring the end nearest, the others as they stand; and by how much it then
// misses along what no length commands (m, signed by the order of the two axes): for two prismatic joints.
double set_lengths(const FewSetup& setup, const Pose& target, Posture& q) {
  Eigen::Matrix<double, 3, Eigen::Dynamic, 0, 3, 6> axes(3, 0);
  std::array<std::size_t, 6> which{};
  for (std::size_t i = 0; i < 6; ++i) {
    if (slides(setup.chain, i)) q[i] = 0;
  }
  const ChainPosture posture = chain_posture(setup.chain, q.data());
  for (std::size_t i = 0; i < 6; ++i) {
    if (!slides(setup.chain, i)) continue;
    which[static_cast<std::size_t>(axes.cols())] = i;
    axes.conservativeResize(3, axes.cols() + 1);
    const Vec3& z = posture.axis[i].direction;
    axes.col(axes.cols() - 1) << z.x, z.y, z.z;
  }
  const Vec3 way = target.position - posture.end.position;
  const Eigen::Vector3d wanted(way.x, way.y, way.z);
  const Eigen::VectorXd lengths = axes.colPivHouseholderQr().solve(wanted);
  for (Eigen::Index k = 0; k < axes.cols(); ++k) q[which[static_cast<std::size_t>(k)]] = lengths(k);
  if (axes.cols() != 2) return 0;
  const Eigen::Vector3d left = wanted - axes * lengths;
  return left.dot(Eigen::Vector3d(axes.col(0)).cross(Eigen::Vector3d(axes.col(1))).normalized());
}

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

void solve_turns_first(const FewSetup& setup, const Pose& target, double free_value, Solutions& out) {
  Posture start{};
  start[setup.turns.joint[0]] = free_value;
  const TurnAnswers turns = solve_turns(setup.chain, setup.turns, target.rotation, start, 1e-12);
  for (int k = 0; k < turns.count; ++k) {
    Posture q = turns.q[static_cast<std::size_t>(k)];
    set_lengths(setup, target, q);
    take(setup, target, q, out);
  }
}

// One turn on a grid; on either branch of the others, where the miss changes sign, is least, or the branch ends.
void solve_one_searched(const FewSetup& setup, const Pose& target, Solutions& out) {
  constexpr int count = 96;
  struct Sample {
    bool there = false;
    double miss = 0;
    Posture q{};
  };
  std::array<std::array<Sample, count>, 2> sample;
  for (int k = 0; k < count; ++k) {
    Posture start{};
    start[setup.searched] = 2 * pi * (k + 0.37) / count - pi;
    const TurnAnswers turns = solve_turns(setup.chain, setup.turns, target.rotation, start, 0);
    for (int side = 0; side < turns.count; ++side) {
      Sample& s = sample[static_cast<std::size_t>(side)][static_cast<std::size_t>(k)];
      s.there = true;
      s.q = turns.q[static_cast<std::size_t>(side)];
      s.miss = set_lengths(setup, target, s.q);
    }
  }
  for (const auto& branch : sample) {
    for (std::size_t k = 0; k < count; ++k) {
      const Sample &s = branch[k], &before = branch[(k + count - 1) % count], &after = branch[(k + 1) % count];
      if (!s.there) continue;
      const double miss = std::fabs(s.miss);
      const bool end = !before.there || !after.there;
      const bool crosses = (before.there && before.miss * s.miss <= 0) || (after.there && after.miss * s.miss <= 0);
      const bool least = !end && miss <= std::fabs(before.miss) && miss <= std::fabs(after.miss);
      Posture q = s.q;
      if ((end || crosses || least) && reach(setup, target, 0, q)) take(setup, target, q, out);
    }
  }
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

// The three turns, of four, that command the attitude best, whatever the fourth does.
void choose_triple(const std::array<std::size_t, 4>& turning, FewSetup& setup) {
  double best = -1;
  for (std::size_t left_out = 0; left_out < 4; ++left_out) {
    TurnTriple triple;
    std::size_t n = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      if (k != left_out) triple.joint[n++] = turning[k];
    }
    double command = 0;
    for (int k = 0; k < 8; ++k) {
      Posture q{};
      q[turning[left_out]] = 0.3 + 0.785 * k;
      command += command_of(setup.chain, triple, q) / 8;
    }
    if (command <= best) continue;
    best = command;
    setup.turns = triple;
    setup.searched = turning[left_out];
  }
}

constexpr double useful = 0.5;  // share of the trial postures that a method must find

}  // namespace

FewSetup prepare_few(const FewChain& given) {
  FewSetup setup;
  setup.joint_count = given.joint_count;
  pad(given, setup);
  std::array<std::size_t, 6> turning{};
  std::size_t turns = 0;
  for (std::size_t i = 0; i < 6; ++i) {
    if (!slides(setup.chain, i)) turning[turns++] = i;
  }
  setup.ring.chain = setup.chain;
  setup.ring.size = setup.size;
  if (turns == 6) {
    auto six = std::make_shared<const InverseSetup>(prepare_inverse(setup.chain));
    const bool works = six->family != ArmFamily::general || six->general.missed[0] < useful;
    setup.six = std::move(six);
    setup.method = works ? FewMethod::six_revolute : FewMethod::newton;
  } else if (turns == 5) {
    setup.ring = prepare_general(setup.chain);
    setup.method = setup.ring.missed[0] < useful ? FewMethod::ring : FewMethod::newton;
  } else if (turns == 4) {
    choose_triple({turning[0], turning[1], turning[2], turning[3]}, setup);
    setup.method = FewMethod::one_searched;
  } else if (turns == 3) {
    setup.turns.joint = {turning[0], turning[1], turning[2]};
    setup.method = command_of(setup.chain, setup.turns, Posture{}) > 1e-6 ? FewMethod::turns_first : FewMethod::newton;
  }
  for (std::size_t i = 0; i < 6; ++i) setup.ring.slides[i] = slides(setup.chain, i);
  setup.complete = setup.method < FewMethod::one_searched;
  if (setup.method == FewMethod::ring && setup.ring.doubted[0] > useful) setup.complete = false;
  return setup;
}

void solve_few(const FewSetup& setup, const Pose& target, Solutions& out, double free_value) {
  out.count = 0;
  Solutions raw;
  switch (setup.method) {
    case FewMethod::six_revolute:
    case FewMethod::ring:
      if (setup.method == FewMethod::ring) solve_general(setup.ring, target, raw, free_value);
      else solve_six(*setup.six, target, raw, free_value);
      for (int k = 0; k < raw.count; ++k) take(setup, target, raw.solution[static_cast<std::size_t>(k)].q, out);
      break;
    case FewMethod::turns_first: solve_turns_first(setup, target, free_value, out); break;
    case FewMethod::one_searched: solve_one_searched(setup, target, out); break;
    case FewMethod::newton: solve_newton(setup, target, out); break;
  }
  settle_degenerate(setup.chain, setup.size, target, free_value, out, setup.held);
}

}  // namespace armwright
