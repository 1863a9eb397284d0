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
inline double joint_payload(double torque, double per_kilogram, double limit) {
  const double slope = per_kilogram < 0 ? -per_kilogram : per_kilogram;
  if (limit == std::numeric_limits<double>::infinity() || slope <= no_lever * (1 + limit)) return std::numeric_limits<double>::infinity();
  const double mass = (limit - (per_kilogram < 0 ? -torque : torque)) / slope;
  return mass > 0 ? mass : 0;
}

/// One posture's answer from the torques that its axes hold, N m, and those for a load of 1 kg. `by_joint`: see static_payloads(), or null.
inline StaticPayload payload_of(const Model& model, Limit limit, const double* torque, const double* per_kilogram, double* by_joint) {
  const auto& limits = limit == Limit::continuous ? model.torque_continuous : model.torque_peak;
  StaticPayload answer{std::numeric_limits<double>::infinity(), -1, true};
  double worst = 1;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const double mass = joint_payload(torque[i], per_kilogram[i], limits[i]);
    if (by_joint) by_joint[i] = mass;
    const double held = torque[i] < 0 ? -torque[i] : torque[i];
    if (held > limits[i]) {  // the arm's own weight is too much already
      const double share = limits[i] > 0 ? held / limits[i] : std::numeric_limits<double>::infinity();
      if (by_joint) by_joint[i] = 0;
      if (answer.holds_itself || share > worst) {
        answer = {0, static_cast<std::int32_t>(i), false};
        worst = share;
      }
    } else if (answer.holds_itself && mass < answer.mass) {
      answer = {mass, static_cast<std::int32_t>(i), true};
    }
  }
  return answer;
}

/// The largest mass of one posture, told by its joint frames in the world; `centre` in the last joint frame, m.
inline StaticPayload posture_payload(const Model& model, const Pose* frames, const Vec3& centre, Limit limit) {
  std::array<double, max_joints> own, per_kilogram;
  holding_torques(model, centre, frames, own.data(), per_kilogram.data());
  return payload_of(model, limit, own.data(), per_kilogram.data(), nullptr);
}

}  // namespace armwright
