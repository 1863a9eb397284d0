#pragma once

#include "armwright/model/model.hpp"

namespace armwright {

/// The wrist centre in the last joint frame: the point of the last axis nearest to the axis before it; where three wrist
/// axes meet, their meeting point (ISO 9787). For arms of two joints and more.
inline Vec3 wrist_centre(const Model& model) {
  const JointStep& step = model.step[model.joint_count - 1];
  const Vec3 z{0, -step.sin_alpha, step.cos_alpha};
  return {0, 0, -dot(step.offset, z)};
}

}  // namespace armwright
