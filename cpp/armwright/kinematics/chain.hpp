#pragma once

#include <cstddef>

#include "armwright/model/model.hpp"
#include "armwright/support/sin_cos.hpp"

namespace armwright {

/// Loads joint i of one row, or of Lanes::width successive rows, of a batch.
template <class T>
ARMWRIGHT_INLINE T load_joint(const double* q, std::size_t joint_count, std::size_t i) {
  T value(0.0);
  for (std::size_t k = 0; k < width_of<T>; ++k) set_lane(value, k, q[k * joint_count + i]);
  return value;
}

/// X_W F(i-1) -> X_W F(i), with the joint at q. See JointStep.
template <class T>
ARMWRIGHT_INLINE void advance(const JointStep& step, T q, Pose3<T>& frame) {
  frame.position = frame * spread<T>(step.offset);
  Rotation3<T>& R = frame.rotation;
  const T ca(step.cos_alpha), sa(step.sin_alpha);
  const Vector3<T> y = ca * R.y + sa * R.z;
  R.z = ca * R.z - sa * R.y;
  T s(step.sin_zero), c(step.cos_zero);
  if (step.kind == JointKind::revolute) {
    sin_cos(q + T(step.zero), s, c);
  } else {
    frame.position = frame.position + q * R.z;
  }
  const Vector3<T> x = R.x;
  R.y = c * y - s * x;
  R.x = c * x + s * y;
}

/// All joint frames F(0..n-1) in the world for one row, or several in lanes.
template <class T>
ARMWRIGHT_INLINE void joint_frames(const Model& model, const double* q, Pose3<T>* frames) {
  Pose3<T> frame = spread<T>(model.base);
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    advance(model.step[i], load_joint<T>(q, model.joint_count, i), frame);
    frames[i] = frame;
  }
}

}  // namespace armwright
