#include "armwright/kinematics/inverse/few/settle_axes.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

// Along a true curve the pose is held to rounding; near a double answer only within what is accepted.
bool held_to_rounding(const AxisChain& chain, const Pose& target, const JointValues& q) {
  const PoseError e = pose_error(axis_chain_end(chain, q.data()), target);
  return e.position < 1e-11 * std::max(1.0, chain.size) && e.rotation < 1e-11;
}

bool follow(const AxisChain& chain, const Pose& target, std::size_t which, JointValues& q) {
  return fit(chain, target, q, 40, static_cast<int>(which)) && held_to_rounding(chain, target, q);
}

// Walks joint `which` to `wanted` in steps, the others following so that the pose is held; as far as they do. Whether
// it gets there.
bool walk_free_joint(const AxisChain& chain, const Pose& target, std::size_t which, double wanted, JointValues& q) {
  const bool slides = chain.axis[which].kind == JointKind::prismatic;
  const double way = slides ? wanted - q[which] : wrapped(wanted - q[which]), step = 0.1 * (slides ? chain.size : 1);
  const int steps = std::max(1, static_cast<int>(std::ceil(std::fabs(way) / step)));
  const double from = q[which];
  for (int k = 1; k <= steps && k <= 200; ++k) {
    JointValues next = q;
    next[which] = from + way * k / steps;
    if (!follow(chain, target, which, next) || !same(chain, next, q, 0.5)) return false;
    q = next;
  }
  return true;
}

constexpr double still = 1e-6;         // of StillMotions: beyond, the posture stands apart from all others
constexpr double still_enough = 1e-4;  // what else may be mixed into the motion: an approximate double answer

double unit_of(const AxisChain& chain, std::size_t joint) { return chain.axis[joint].kind == JointKind::prismatic ? chain.size : 1; }

// Whether the pose is held with the joint moved to one side or the other, the rest following.
bool moves_freely(const AxisChain& chain, const Pose& target, const JointValues& q, const StillMotions& motions, std::size_t which) {
  const JointValues& motion = motions.of[which];
  for (const double side : {0.03, -0.03}) {
    JointValues there = q;
    for (std::size_t i = 0; i < chain.count; ++i) there[i] += side * motion[i] / motion[which] * unit_of(chain, i);
    if (follow(chain, target, which, there) && same(chain, there, q, 0.15)) return true;
  }
  return false;
}

// The joint that is free to move, of several the one with the largest share in the motion; -1 if none is.
int free_joint_at(const AxisChain& chain, const Pose& target, const JointValues& q) {
  const StillMotions motions = still_motions(chain, q.data(), still_enough);
  if (motions.least > still) return -1;
  std::array<bool, 6> tried{};
  for (std::size_t round = 0; round < chain.count; ++round) {
    std::size_t which = chain.count;
    double most = 0.05;
    for (std::size_t i = 0; i < chain.count; ++i)
      if (!tried[i] && motions.of[i][i] > most * (1 + 1e-6)) most = motions.of[i][i], which = i;
    if (which == chain.count) return -1;
    tried[which] = true;
    if (moves_freely(chain, target, q, motions, which)) return static_cast<int>(which);
  }
  return -1;
}

// Whether one free curve holds both: walked along it, the posture becomes the answer.
bool on_the_curve_of(const AxisChain& chain, const Pose& target, const Solution& answer, JointValues q) {
  const auto which = static_cast<std::size_t>(answer.free_joint);
  return walk_free_joint(chain, target, which, answer.q[which], q) && same(chain, q, answer.q, 1e-4);
}

double missed_by(const AxisChain& chain, const Pose& target, const JointValues& q) {
  const PoseError e = pose_error(axis_chain_end(chain, q.data()), target);
  return e.position / chain.size + e.rotation;
}

// Near a double answer two approximations of it may stand apart by the root of what the fit leaves; what lies between
// them then holds the pose about as well as they do. Between two answers it misses it by more.
bool one_double_answer(const AxisChain& chain, const Pose& target, const JointValues& a, const JointValues& b) {
  if (!same(chain, a, b, 1e-3)) return false;
  JointValues between = a;
  for (std::size_t i = 0; i < chain.count; ++i)
    between[i] += 0.5 * (chain.axis[i].kind == JointKind::prismatic ? b[i] - a[i] : wrapped(b[i] - a[i]));
  return missed_by(chain, target, between) < 1e-14 + 4 * std::max(missed_by(chain, target, a), missed_by(chain, target, b));
}

}  // namespace

void add_fitted(const AxisChain& chain, const Pose& target, double free_value, JointValues q, Solutions& out) {
  if (!fit(chain, target, q)) return;
  Solution s;
  const int loose = free_joint_at(chain, target, q);
  if (loose >= 0) {
    JointValues walked = q;
    walk_free_joint(chain, target, static_cast<std::size_t>(loose), free_value, walked);
    if (accepted(pose_error(axis_chain_end(chain, walked.data()), target))) q = walked;
  }
  s.q = q;
  for (std::size_t i = 0; i < chain.count; ++i)
    if (chain.axis[i].kind == JointKind::revolute) s.q[i] = wrapped(s.q[i]);
  s.free_joint = static_cast<std::int8_t>(loose);
  for (int k = 0; k < out.count; ++k) {
    const Solution& there = out.solution[static_cast<std::size_t>(k)];
    if (same(chain, there.q, q, same_answer) || one_double_answer(chain, target, there.q, q)) return;
    if (loose >= 0 && there.free_joint >= 0 && on_the_curve_of(chain, target, there, q)) return;
  }
  out.add(s);
}

}  // namespace armwright
