#pragma once

#include "armwright/kinematics/chain.hpp"

namespace armwright {

/// A vector of frame F(i-1) told in F(i): turned back by Rx(alpha), then by Rz(theta).
template <class T>
ARMWRIGHT_INLINE Vector3<T> into_link(const JointStep& step, T s, T c, const Vector3<T>& v) {
  const T ca(step.cos_alpha), sa(step.sin_alpha);
  const T y = ca * v.y + sa * v.z, z = ca * v.z - sa * v.y;
  return {c * v.x + s * y, c * y - s * v.x, z};
}

/// And back: a vector of F(i) told in F(i-1).
template <class T>
ARMWRIGHT_INLINE Vector3<T> out_of_link(const JointStep& step, T s, T c, const Vector3<T>& v) {
  const T ca(step.cos_alpha), sa(step.sin_alpha);
  const T y = s * v.x + c * v.y;
  return {c * v.x - s * v.y, ca * y - sa * v.z, sa * y + ca * v.z};
}

template <class T>
ARMWRIGHT_INLINE Vector3<T> inertia_times(const Inertia& b, const Vector3<T>& w) {
  return {T(b.xx) * w.x + T(b.xy) * w.y + T(b.xz) * w.z, T(b.xy) * w.x + T(b.yy) * w.y + T(b.yz) * w.z,
          T(b.xz) * w.x + T(b.yz) * w.y + T(b.zz) * w.z};
}

/// Force and moment (about the frame's origin) that a body needs for its motion.
template <class T>
ARMWRIGHT_INLINE void add_body(const Inertia& body, const Vector3<T>& w, const Vector3<T>& dw, const Vector3<T>& a,
                               Vector3<T>& force, Vector3<T>& moment) {
  const Vector3<T> c = spread<T>(body.centre);
  const Vector3<T> f = T(body.mass) * (a + cross(dw, c) + cross(w, cross(w, c)));
  force = force + f;
  moment = moment + inertia_times(body, dw) + cross(w, inertia_times(body, w)) + cross(c, f);
}

/// What the part before every joint gives to all beyond it: force, and moment about the origin of the joint's own frame F(i),
/// both told there.
template <class T>
struct JointForces {
  Vector3<T> force[max_joints], moment[max_joints];
};

/// Newton–Euler, outward then inward, each link's quantities in its own joint frame. `base_acceleration` in the frame
/// of the base (minus gravity stands for gravity). `first`: links before it stand still, so nothing moves there.
/// `last` is the last link with what it carries. `told`, if given: what every joint bears.
template <class T>
ARMWRIGHT_INLINE void newton_euler(const Model& model, const Inertia& last, const JointTurns<T>& turns, const T* q,
                                   const T* speed, const T* acceleration, const Vector3<T>& base_acceleration,
                                   std::size_t first, T* torque, JointForces<T>* told = nullptr) {
  const std::size_t n = model.joint_count;
  const T zero(0.0);
  JointForces<T> own;
  Vector3<T>*const force = (told ? told : &own)->force, *const moment = (told ? told : &own)->moment;
  Vector3<T> w{zero, zero, zero}, dw{zero, zero, zero}, a = base_acceleration;
  for (std::size_t i = first; i < n; ++i) {
    const JointStep& step = model.step[i];
    const Vector3<T> p = spread<T>(step.offset);
    a = into_link(step, turns.sine[i], turns.cosine[i], a + cross(dw, p) + cross(w, cross(w, p)));
    w = into_link(step, turns.sine[i], turns.cosine[i], w);
    dw = into_link(step, turns.sine[i], turns.cosine[i], dw);
    if (step.kind == JointKind::revolute) {
      dw = {dw.x + speed[i] * w.y, dw.y - speed[i] * w.x, dw.z + acceleration[i]};
      w.z += speed[i];
    } else {
      const Vector3<T> d{zero, zero, q[i]}, v{zero, zero, speed[i] + speed[i]};
      a = a + cross(dw, d) + cross(w, cross(w, d)) + cross(w, v);
      a.z += acceleration[i];
    }
    force[i] = moment[i] = {zero, zero, zero};
    add_body(i + 1 < n ? model.link[i] : last, w, dw, a, force[i], moment[i]);
  }
  for (std::size_t i = n; i-- > 0;) {
    if (i < first) force[i] = moment[i] = {zero, zero, zero};
    if (i + 1 < n) {
      const JointStep& step = model.step[i + 1];
      const Vector3<T>& f = force[i + 1];
      Vector3<T> m = moment[i + 1];
      if (step.kind == JointKind::prismatic) m = {m.x - q[i + 1] * f.y, m.y + q[i + 1] * f.x, m.z};
      const Vector3<T> carried = out_of_link(step, turns.sine[i + 1], turns.cosine[i + 1], f);
      force[i] = force[i] + carried;
      moment[i] = moment[i] + out_of_link(step, turns.sine[i + 1], turns.cosine[i + 1], m) + cross(spread<T>(step.offset), carried);
    }
    torque[i] = model.step[i].kind == JointKind::revolute ? moment[i].z : force[i].z;
  }
}

}  // namespace armwright
