#pragma once

#include <limits>

#include "armwright/dynamics/gravity_of.hpp"
#include "armwright/limits/static_payload.hpp"
#include "armwright/motion/drive_torques.hpp"

namespace armwright {

/// Torques below this share of the limit leave no mark on the answer; it keeps a joint whose axis the load hangs
/// under from naming itself by rounding.
inline constexpr double no_lever = 1e-12;

/// What every axis holds in a posture told by its joint frames in the world, for one row or four: against the arm with
/// its tool, springs helping, and against a load of 1 kg at `centre` (in the last joint frame, m).
template <class T>
ARMWRIGHT_INLINE void holding_torques(const Model& model, const Vec3& centre, const Pose3<T>* frames, T* own, T* per_kilogram) {
  gravity_of(model, Inertia{}, frames, own);
  unit_load_torque(model, centre, frames, per_kilogram);
  if (model.coupling.none()) return;
  T joint_own[max_joints], joint_unit[max_joints];
  for (std::size_t i = 0; i < model.joint_count; ++i) joint_own[i] = own[i], joint_unit[i] = per_kilogram[i];
  axis_torques(model, joint_own, own);
  axis_torques(model, joint_unit, per_kilogram);
}

/// One axis' largest mass: see static_payloads(). Infinite if the load has no lever on the axis or no limit is given.
template <class T>
ARMWRIGHT_INLINE T joint_payload(T torque, T per_kilogram, double limit) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  if (limit == infinity) return T(infinity);
  const T slope = absolute(per_kilogram), zero(0.0);
  const T mass = (T(limit) - select(per_kilogram < zero, -torque, torque)) / slope;
  return select(slope <= T(no_lever * (1 + limit)), T(infinity), select(mass > zero, mass, zero));
}

/// static_payloads()'s answer for one posture or a pack of them; `joint` is a whole number.
template <class T>
struct HeldMass {
  T mass, joint;
  decltype(T() < T()) holds_itself;
};

namespace detail {

// Where the arm's own weight is too much already for some axes: names the one worst off.
template <class T>
ARMWRIGHT_INLINE void tell_too_heavy(const std::array<double, max_joints>& limits, std::size_t joint_count, const T* torque, HeldMass<T>& answer) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  T worst(1.0);
  for (std::size_t i = 0; i < joint_count; ++i) {
    const T held = absolute(torque[i]);
    const T share = limits[i] > 0 ? held / T(limits[i]) : T(infinity);
    const auto gives_out = (held > T(limits[i])) & (answer.holds_itself | (share > worst));
    worst = select(gives_out, share, worst);
    answer.joint = select(gives_out, T(static_cast<double>(i)), answer.joint);
    answer.mass = select(gives_out, T(0.0), answer.mass);
    answer.holds_itself = answer.holds_itself & !gives_out;
  }
}

}  // namespace detail

/// From the torques that the axes hold, N m, and those for a load of 1 kg. `by_joint`: each axis' own mass, or null.
template <class T>
ARMWRIGHT_INLINE HeldMass<T> held_mass(const Model& model, Limit limit, const T* torque, const T* per_kilogram, T* by_joint) {
  const auto& limits = limit == Limit::continuous ? model.torque_continuous : model.torque_peak;
  const T zero(0.0);
  const auto yes = zero <= zero;
  HeldMass<T> answer{T(std::numeric_limits<double>::infinity()), T(-1.0), yes};
  auto too_heavy = !yes;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const auto heavy = absolute(torque[i]) > T(limits[i]);
    const T mass = select(heavy, zero, joint_payload(torque[i], per_kilogram[i], limits[i]));
    too_heavy = too_heavy | heavy;
    const auto least = mass < answer.mass;
    answer.mass = select(least, mass, answer.mass);
    answer.joint = select(least, T(static_cast<double>(i)), answer.joint);
    if (by_joint) by_joint[i] = mass;
  }
  if (any(too_heavy)) detail::tell_too_heavy(limits, model.joint_count, torque, answer);
  return answer;
}

/// One posture's answer.
inline StaticPayload payload_of(const Model& model, Limit limit, const double* torque, const double* per_kilogram) {
  const HeldMass<double> held = held_mass(model, limit, torque, per_kilogram, static_cast<double*>(nullptr));
  return {held.mass, static_cast<std::int32_t>(held.joint), held.holds_itself};
}

/// The largest mass of one posture, told by its joint frames in the world; `centre` in the last joint frame, m.
inline StaticPayload posture_payload(const Model& model, const Pose* frames, const Vec3& centre, Limit limit) {
  std::array<double, max_joints> own, per_kilogram;
  holding_torques(model, centre, frames, own.data(), per_kilogram.data());
  return payload_of(model, limit, own.data(), per_kilogram.data());
}

}  // namespace armwright
