#pragma once

#include <cmath>
#include <limits>
#include <vector>

#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/kinematics/inverse/batch.hpp"
#include "arms.hpp"
#include "catch_shim.hpp"
#include "random_arms.hpp"

namespace armwright::testing {

inline constexpr double endless = std::numeric_limits<double>::infinity();

inline Model model_of(const SixChain& chain, Random& random) {
  Model model;
  model.joint_count = 6;
  model.base = chain.base;
  model.tool = chain.end;
  model.lower.fill(-M_PI), model.upper.fill(M_PI);
  for (std::size_t i = 0; i < 6; ++i) {
    model.step[i] = chain.step[i];
    const double kind = random.uniform(0, 1);
    const double middle = random.uniform(-2, 2), half = random.uniform(1, 4);
    model.lower[i] = kind < 0.2 ? -endless : middle - half;
    model.upper[i] = kind < 0.2 ? endless : middle + half;
  }
  return model;
}

struct Batch {
  std::vector<double> q;
  std::vector<std::uint8_t> valid;
  std::vector<std::int8_t> free_joint;
};
inline Batch solved(const ArmInverse& inverse, const std::vector<double>& targets, bool within_limits, InstructionSet level = instruction_set()) {
  const std::size_t most = static_cast<std::size_t>(most_solutions(inverse)), answers = targets.size() / 16 * most;
  Batch b{std::vector<double>(answers * 6, 7.0), std::vector<std::uint8_t>(answers, 7), std::vector<std::int8_t>(answers, 7)};
  const BatchArm arm = batch_arm(inverse, inverse.usual);
  REQUIRE(arm.packs);
  solve_batch(arm, within_limits, targets, {most, b.q.data(), b.valid.data(), b.free_joint.data()}, level);
  return b;
}

inline std::vector<InstructionSet> levels() {
  std::vector<InstructionSet> all;
  for (int level = 0; level <= static_cast<int>(instruction_set()); ++level) all.push_back(static_cast<InstructionSet>(level));
  return all;
}

// A posture; now and then near a place where two answers are one, or a pose that is out of reach.
inline Pose target_of(const SixChain& chain, Random& random) {
  auto q = random.posture();
  const double kind = random.uniform(0, 1), small = std::pow(10.0, random.uniform(-12, -1)) * random.sign();
  if (kind < 0.1) q[4] = -chain.step[4].zero + small;
  if (kind > 0.9) q[2] = -chain.step[2].zero + small;
  Pose pose = chain_end(chain, q.data());
  if (kind > 0.45 && kind < 0.55) pose.position = random.uniform(0.1, 3) * pose.position;
  if (kind > 0.55 && kind < 0.6) pose.rotation.x = (1 + 1e-9 * random.sign()) * pose.rotation.x;
  return pose;
}

}  // namespace armwright::testing
