#include "armwright/kinematics/inverse/spun_arm.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/kinematics/chain.hpp"
#include "armwright/kinematics/inverse/kin_arms.hpp"
#include "armwright/model/chain_steps.hpp"

namespace armwright {

namespace {

Model with_spin(const Model& model) {
  const std::size_t n = model.joint_count;
  const std::array<double, max_joints> zero{};
  std::array<Pose, max_joints> frames;
  joint_frames(model, zero.data(), frames.data());
  const Pose tool = frames[n - 1] * model.tool;
  std::array<JointAxis, max_joints> axes;
  for (std::size_t i = 0; i < n; ++i) axes[i] = {frames[i].position, frames[i].rotation.z, model.step[i].kind};
  axes[n] = {tool.position, tool.rotation.z, JointKind::revolute};
  const ChainSteps steps = steps_along({axes.data(), n + 1});
  Model spun = model;
  spun.joint_count = n + 1;
  spun.base = steps.base;
  spun.step = steps.step;
  spun.tool = inverse(steps.frame[n]) * tool;
  spun.lower[n] = -std::numeric_limits<double>::infinity();
  spun.upper[n] = std::numeric_limits<double>::infinity();
  return spun;
}

}  // namespace

std::shared_ptr<const ArmInverse> spun_arm(const ArmInverse& inverse) {
  if (inverse.solved.size() > 5 || inverse.model.joint_count == max_joints) return nullptr;
  return inverse.kin->spun.made([&]() -> std::shared_ptr<const ArmInverse> {
    auto spun = std::make_shared<const ArmInverse>(prepare_arm_inverse(with_spin(inverse.model)));
    return spun->redundant == inverse.redundant ? spun : nullptr;
  });
}

std::vector<double> exact_spins(const ArmInverse& spun, const std::vector<double>& held, const Pose& target) {
  ArmSolutions found;
  solve_arm(spun, hold(spun, held), target, found);
  std::vector<double> spins;
  for (int k = 0; k < found.count; ++k) {
    const double spin = -found.solution[static_cast<std::size_t>(k)].q[spun.model.joint_count - 1];
    const bool known = std::any_of(spins.begin(), spins.end(), [&](double s) { return std::fabs(wrapped(s - spin)) < same_answer; });
    if (!known) spins.push_back(spin);
  }
  return spins;
}

}  // namespace armwright
