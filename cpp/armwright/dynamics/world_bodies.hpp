#pragma once

#include "armwright/kinematics/chain.hpp"

namespace armwright {

/// A body in the world, about one point that all share: mass, mass times centre, and the moments about that point.
template <class T>
struct BodyAbout {
  T mass;
  Vector3<T> first;
  T xx, yy, zz, xy, xz, yz;
};

/// What mass matrix and bias torques are made of: every joint's motion and every link's body, in world axes about the
/// origin of F(0), from the joint frames in the world. `turn` is the axis where a joint turns, else 0; `shift` is how
/// that point, fixed to the link, moves for a unit speed of the joint.
template <class T>
struct WorldBodies {
  Vector3<T> turn[max_joints], shift[max_joints];
  BodyAbout<T> link[max_joints];
};

/// R I Rᵀ moved from the centre of gravity to the shared point.
template <class T>
ARMWRIGHT_INLINE BodyAbout<T> body_about(const Inertia& b, const Pose3<T>& X, const Vector3<T>& point) {
  const auto& R = X.rotation;
  const Vector3<T> c = X * spread<T>(b.centre) - point;
  const Vector3<T> ix = T(b.xx) * R.x + T(b.xy) * R.y + T(b.xz) * R.z, iy = T(b.xy) * R.x + T(b.yy) * R.y + T(b.yz) * R.z,
                   iz = T(b.xz) * R.x + T(b.yz) * R.y + T(b.zz) * R.z;
  const T m(b.mass);
  const Vector3<T> h = m * c;
  return {m,
          h,
          R.x.x * ix.x + R.y.x * iy.x + R.z.x * iz.x + h.y * c.y + h.z * c.z,
          R.x.y * ix.y + R.y.y * iy.y + R.z.y * iz.y + h.x * c.x + h.z * c.z,
          R.x.z * ix.z + R.y.z * iy.z + R.z.z * iz.z + h.x * c.x + h.y * c.y,
          R.x.x * ix.y + R.y.x * iy.y + R.z.x * iz.y - h.x * c.y,
          R.x.x * ix.z + R.y.x * iy.z + R.z.x * iz.z - h.x * c.z,
          R.x.y * ix.z + R.y.y * iy.z + R.z.y * iz.z - h.y * c.z};
}

template <class T>
ARMWRIGHT_INLINE void add(BodyAbout<T>& a, const BodyAbout<T>& b) {
  a.mass += b.mass;
  a.first = a.first + b.first;
  a.xx += b.xx, a.yy += b.yy, a.zz += b.zz, a.xy += b.xy, a.xz += b.xz, a.yz += b.yz;
}

/// Momentum of a body that turns at `w` while the shared point, fixed to it, moves at `v`; or force and moment, for
/// accelerations of a body that stands.
template <class T>
ARMWRIGHT_INLINE void momentum(const BodyAbout<T>& b, const Vector3<T>& w, const Vector3<T>& v, Vector3<T>& linear, Vector3<T>& angular) {
  linear = b.mass * v + cross(w, b.first);
  angular = Vector3<T>{b.xx * w.x + b.xy * w.y + b.xz * w.z, b.xy * w.x + b.yy * w.y + b.yz * w.z, b.xz * w.x + b.yz * w.y + b.zz * w.z} +
            cross(b.first, v);
}

/// `last`: the last link with what it carries.
template <class T>
ARMWRIGHT_INLINE void world_bodies(const Model& model, const Inertia& last, const Pose3<T>* frames, WorldBodies<T>& out) {
  const std::size_t n = model.joint_count;
  const Vector3<T> point = frames[0].position;
  for (std::size_t i = 0; i < n; ++i) {
    const Vector3<T>& z = frames[i].rotation.z;
    const bool turns = model.step[i].kind == JointKind::revolute;
    out.turn[i] = turns ? z : Vector3<T>{T(0.0), T(0.0), T(0.0)};
    out.shift[i] = turns ? cross(frames[i].position - point, z) : z;
    out.link[i] = body_about(i + 1 < n ? model.link[i] : last, frames[i], point);
  }
}

/// Joint-space mass matrix, row-major n × n, symmetric to the bit. Composite bodies: M_ij = S_i · (I_j S_j) for i ≤ j,
/// where I_j is everything from link j outwards as one body (M. Walker, D. Orin, ASME J. Dyn. Sys. 104, 1982).
template <class T>
ARMWRIGHT_INLINE void mass_matrix_of(const WorldBodies<T>& bodies, std::size_t n, T* M) {
  BodyAbout<T> beyond = bodies.link[n - 1];
  for (std::size_t j = n; j-- > 0;) {
    if (j + 1 < n) add(beyond, bodies.link[j]);
    Vector3<T> force, moment;
    momentum(beyond, bodies.turn[j], bodies.shift[j], force, moment);
    for (std::size_t i = 0; i <= j; ++i) M[i * n + j] = M[j * n + i] = dot(bodies.turn[i], moment) + dot(bodies.shift[i], force);
  }
}

/// Torque of a motion without acceleration: gravity, Coriolis and centrifugal, h(q, q̇) + g(q). Newton and Euler in world
/// axes; no springs.
template <class T>
ARMWRIGHT_INLINE void bias_of(const Model& model, const WorldBodies<T>& bodies, const T* speed, T* torque) {
  const std::size_t n = model.joint_count;
  const T zero(0.0);
  Vector3<T> force[max_joints], moment[max_joints];
  Vector3<T> w{zero, zero, zero}, v = w, dw = w, dv = spread<T>(-model.gravity);
  for (std::size_t i = 0; i < n; ++i) {
    const Vector3<T> wj = speed[i] * bodies.turn[i], vj = speed[i] * bodies.shift[i];
    // The joint's motion is carried along by the links before it.
    dw = dw + cross(w, wj);
    dv = dv + cross(w, vj) + cross(v, wj);
    w = w + wj;
    v = v + vj;
    Vector3<T> linear, angular;
    momentum(bodies.link[i], w, v, linear, angular);
    momentum(bodies.link[i], dw, dv, force[i], moment[i]);
    force[i] = force[i] + cross(w, linear);
    moment[i] = moment[i] + cross(w, angular) + cross(v, linear);
  }
  Vector3<T> f{zero, zero, zero}, m = f;
  for (std::size_t i = n; i-- > 0;) {
    f = f + force[i];
    m = m + moment[i];
    torque[i] = dot(bodies.turn[i], m) + dot(bodies.shift[i], f);
  }
}

}  // namespace armwright
