#pragma once

#include "armwright/kinematics/chain.hpp"

namespace armwright {

/// First and second derivative of the tool point (m) and of the tool's turning (rad), world axes, by whatever q is told by: time, or
/// a path's parameter.
struct ToolRates {
  Vec3 linear, angular;           ///< J q'
  Vec3 linear_next, angular_next; ///< J q'' + J' q'
};

/// From the joint frames in the world and the joints' derivatives. Outward recursion (textbook); with q'' = 0 the second ones
/// are J' q' alone.
inline ToolRates tool_rates(const Model& model, const Pose* frames, const double* first, const double* second) {
  const Vec3 none{0, 0, 0};
  Vec3 w = none, dw = none, v = none, a = none;
  Vec3 at = model.base.position;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const Vec3& z = frames[i].rotation.z;
    const Vec3 arm = frames[i].position - at;
    at = frames[i].position;
    v = v + cross(w, arm);
    a = a + cross(dw, arm) + cross(w, cross(w, arm));
    if (model.step[i].kind == JointKind::revolute) {
      dw = dw + second[i] * z + first[i] * cross(w, z);
      w = w + first[i] * z;
    } else {
      a = a + second[i] * z + 2.0 * first[i] * cross(w, z);
      v = v + first[i] * z;
    }
  }
  const Vec3 arm = frames[model.joint_count - 1] * model.tool.position - at;
  return {v + cross(w, arm), w, a + cross(dw, arm) + cross(w, cross(w, arm)), dw};
}

}  // namespace armwright
