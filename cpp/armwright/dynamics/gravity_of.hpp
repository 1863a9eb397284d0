#pragma once

#include "armwright/dynamics/springs.hpp"
#include "armwright/kinematics/chain.hpp"

namespace armwright {

/// Torque that every joint holds against the weights alone, from the joint frames in the world, for one row or four.
/// Statics: beyond joint i hang the masses of links i.. at their common centre C; the joint holds −z · ((C − o) × m g),
/// which is (C − o) m · (z × g), or −z · m g if it slides.
template <class T>
ARMWRIGHT_INLINE void weight_of(const Model& model, const Inertia& load, const Pose3<T>* frames, T* torque) {
  const Vector3<T> g = spread<T>(model.gravity);
  const std::size_t n = model.joint_count;
  T mass(load.mass);
  Vector3<T> moment = T(load.mass) * (frames[n - 1] * spread<T>(load.centre));  // mass times centre, world
  for (std::size_t i = n; i-- > 0;) {
    const Inertia& link = model.link[i];
    moment = moment + T(link.mass) * (frames[i] * spread<T>(link.centre));
    mass += T(link.mass);
    const Vector3<T>& z = frames[i].rotation.z;
    if (model.step[i].kind == JointKind::revolute) {
      torque[i] = dot(moment - mass * frames[i].position, cross(z, g));
    } else {
      torque[i] = -(mass * dot(z, g));
    }
  }
}

/// Torque that the drive of every joint holds at rest: against the weights, less what counterbalance springs give.
template <class T>
ARMWRIGHT_INLINE void gravity_of(const Model& model, const Inertia& load, const Pose3<T>* frames, T* torque) {
  weight_of(model, load, frames, torque);
  if (!model.springs.empty()) subtract_springs(model, frames, torque);
}

/// Torque of the weight of a load of 1 kg whose centre is at `centre` in the last joint frame, without the arm.
template <class T>
ARMWRIGHT_INLINE void unit_load_torque(const Model& model, const Vec3& centre, const Pose3<T>* frames, T* torque) {
  const Vector3<T> g = spread<T>(model.gravity);
  const std::size_t n = model.joint_count;
  const Vector3<T> at = frames[n - 1] * spread<T>(centre);
  for (std::size_t i = 0; i < n; ++i) {
    const Vector3<T>& z = frames[i].rotation.z;
    torque[i] = model.step[i].kind == JointKind::revolute ? dot(at - frames[i].position, cross(z, g)) : -dot(z, g);
  }
}

}  // namespace armwright
