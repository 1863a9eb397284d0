#pragma once

#include <cstddef>

#include "armwright/model/model.hpp"
#include "armwright/support/sin_cos.hpp"

namespace armwright {

/// Sine and cosine of every joint's turn, for one row or a pack of them. Of a sliding joint: of the turn that its step has.
template <class T>
struct JointTurns {
  T sine[max_joints], cosine[max_joints];
};

/// `q`: a number a joint.
template <class T>
ARMWRIGHT_INLINE void joint_turns(const Model& model, const T* q, JointTurns<T>& turns) {
  T widest(0.0);
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const JointStep& step = model.step[i];
    if (step.kind == JointKind::prismatic) {
      turns.sine[i] = T(step.sin_zero), turns.cosine[i] = T(step.cos_zero);
      continue;
    }
    const T angle = q[i] + T(step.zero);
    sin_cos_within(angle, turns.sine[i], turns.cosine[i]);
    widest = maximum(absolute(angle), widest);
  }
  if (!any(widest > T(widest_angle))) return;
  for (std::size_t i = 0; i < model.joint_count; ++i)
    if (model.step[i].kind == JointKind::revolute) sin_cos(q[i] + T(model.step[i].zero), turns.sine[i], turns.cosine[i]);
}

/// X_W F(i-1) -> X_W F(i), with the joint at q and its turn's sine and cosine given. See JointStep. Arms are mostly built
/// square: what is zero of an offset or a twist is left out, which changes no bit but the sign of a zero.
template <class T>
ARMWRIGHT_INLINE void advance(const JointStep& step, T q, T sine, T cosine, Pose3<T>& frame) {
  Rotation3<T>& R = frame.rotation;
  if (step.offset.x != 0) frame.position = frame.position + T(step.offset.x) * R.x;
  if (step.offset.y != 0) frame.position = frame.position + T(step.offset.y) * R.y;
  if (step.offset.z != 0) frame.position = frame.position + T(step.offset.z) * R.z;
  const T ca(step.cos_alpha), sa(step.sin_alpha);
  const Vector3<T> y = ca * R.y + sa * R.z;
  R.z = ca * R.z - sa * R.y;
  if (step.kind == JointKind::prismatic) frame.position = frame.position + q * R.z;
  const Vector3<T> x = R.x;
  R.y = cosine * y - sine * x;
  R.x = cosine * x + sine * y;
}

/// The same with the joint at q.
template <class T>
ARMWRIGHT_INLINE void advance(const JointStep& step, T q, Pose3<T>& frame) {
  T sine(step.sin_zero), cosine(step.cos_zero);
  if (step.kind == JointKind::revolute) sin_cos(q + T(step.zero), sine, cosine);
  advance(step, q, sine, cosine, frame);
}

/// One row of joint values, or a pack of successive rows of a batch.
template <class T>
ARMWRIGHT_INLINE void load_joints(const Model& model, const double* rows, T* q) {
  for (std::size_t i = 0; i < model.joint_count; ++i) q[i] = load_rows<T>(rows, model.joint_count, i);
}

/// All joint frames F(0..n-1) in the world, the joints at `q`, a number each.
template <class T>
ARMWRIGHT_INLINE void joint_frames_at(const Model& model, const T* q, Pose3<T>* frames) {
  JointTurns<T> turns;
  joint_turns(model, q, turns);
  Pose3<T> frame = spread<T>(model.base);
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    advance(model.step[i], q[i], turns.sine[i], turns.cosine[i], frame);
    frames[i] = frame;
  }
}

/// The same for one row of joint values, or a pack of successive ones.
template <class T>
ARMWRIGHT_INLINE void joint_frames(const Model& model, const double* rows, Pose3<T>* frames) {
  T q[max_joints];
  load_joints(model, rows, q);
  joint_frames_at(model, q, frames);
}

}  // namespace armwright
