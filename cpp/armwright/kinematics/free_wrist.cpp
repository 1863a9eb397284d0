#include "armwright/kinematics/free_wrist.hpp"

namespace armwright {

Model with_free_wrist(const Model& model) {
  Model loose = model;
  // Turns about z, then about an axis square to it, then about z again: any rotation is some of these.
  const double sines[3] = {0, 1, -1};
  for (std::size_t k = 0; k < 3; ++k) {
    const std::size_t i = loose.joint_count++;
    JointStep& step = loose.step[i];
    step.kind = JointKind::revolute;
    step.offset = k == 0 ? model.tool.position : Vec3{0, 0, 0};
    step.cos_alpha = k == 0 ? 1 : 0;
    step.sin_alpha = sines[k];
    step.zero = 0;
    step.cos_zero = 1;
    step.sin_zero = 0;
    loose.link_frame[i] = loose.told_frame[i] = identity_pose;
    loose.link[i] = Inertia{};
    loose.lower[i] = -unlimited;
    loose.upper[i] = unlimited;
    loose.torque_continuous[i] = loose.torque_peak[i] = unlimited;
    loose.joint_names.push_back("free turn " + std::to_string(k + 1));
    loose.link_names.push_back(loose.joint_names.back());
  }
  loose.tool = loose.flange = identity_pose;
  loose.load = Inertia{};
  return loose;
}

}  // namespace armwright
