#pragma once

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "armwright/kinematics/inverse/inverse.hpp"
#include "armwright/kinematics/inverse/polish.hpp"
#include "kinematics/random_arms.hpp"

namespace armwright::testing {

/// How many postures an arm is tried with: 2e4, or as ARMWRIGHT_POSTURES says.
inline int posture_count(int usual = 20000) {
  const char* wanted = std::getenv("ARMWRIGHT_POSTURES");
  return wanted ? std::atoi(wanted) : usual;
}

struct Tally {
  int poses = 0, answers = 0, lost = 0, wrong = 0, most = 0, free = 0;
  double worst_position = 0, worst_rotation = 0, worst_found = 0;
};

inline double distance(const std::array<double, 6>& a, const std::array<double, 6>& b) {
  double most = 0;
  for (std::size_t i = 0; i < 6; ++i) most = std::max(most, std::fabs(wrapped(a[i] - b[i])));
  return most;
}

/// Counts answers and how well they hold the pose; the distance of the nearest one from `q`, rad.
inline double count_answers(const SixChain& chain, const Pose& target, const Solutions& out, const std::array<double, 6>& q, Tally& t) {
  ++t.poses;
  t.answers += out.count;
  t.most = std::max(t.most, out.count);
  double nearest = HUGE_VAL;
  for (int k = 0; k < out.count; ++k) {
    const Solution& s = out.solution[static_cast<std::size_t>(k)];
    const PoseError e = pose_error(chain, target, s.q.data());
    t.worst_position = std::max(t.worst_position, e.position);
    t.worst_rotation = std::max(t.worst_rotation, e.rotation);
    if (!accepted(e)) ++t.wrong;
    nearest = std::min(nearest, distance(s.q, q));
  }
  return nearest;
}

inline bool any_free(const Solutions& out) {
  return std::any_of(out.solution.begin(), out.solution.begin() + out.count, [](const Solution& s) { return s.free_joint >= 0; });
}

/// Solves for the pose of a posture; counts it as lost if the posture is not among the answers (within `tolerance`,
/// rad) and none of these names a free joint.
inline void tally(const InverseSetup& setup, const std::array<double, 6>& q, Tally& t, double tolerance = 1e-5) {
  const Pose target = chain_end(setup.chain, q.data());
  Solutions out;
  solve_six(setup, target, out);
  const double nearest = count_answers(setup.chain, target, out, q, t);
  const bool free = any_free(out);
  if (free) ++t.free;
  if (!(nearest < tolerance) && !free) ++t.lost;
  if (nearest < tolerance) t.worst_found = std::max(t.worst_found, nearest);
}

inline Tally random_postures(const SixChain& chain, Random& random, int count) {
  const InverseSetup setup = prepare_inverse(chain);
  Tally t;
  for (int k = 0; k < count; ++k) tally(setup, random.posture(), t);
  return t;
}

inline void add(Tally& sum, const Tally& t) {
  sum.poses += t.poses;
  sum.answers += t.answers;
  sum.lost += t.lost;
  sum.wrong += t.wrong;
  sum.free += t.free;
  sum.most = std::max(sum.most, t.most);
  sum.worst_position = std::max(sum.worst_position, t.worst_position);
  sum.worst_rotation = std::max(sum.worst_rotation, t.worst_rotation);
  sum.worst_found = std::max(sum.worst_found, t.worst_found);
}

}  // namespace armwright::testing
