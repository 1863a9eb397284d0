#pragma once

#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

enum class Limit : std::int8_t { continuous, peak };

/// The largest mass that a posture holds.
struct StaticPayload {
  double mass;        ///< kg; +infinity where no joint is loaded or limited; 0 where the arm cannot hold itself
  std::int32_t joint; ///< the joint (where joints are coupled: the drive) that gives out first, -1 if none; where the arm cannot hold itself, the one worst off
  bool holds_itself;  ///< whether the arm with its tool stays within the limit at all
};

/// The same of a batch of postures, a row each.
struct StaticPayloads {
  std::span<double> mass;
  std::span<std::int32_t> joint;
  std::span<bool> holds_itself;
  std::span<double> by_joint;  ///< rows × joints: each axis' own mass, kg
};

/// The mass at `centre` (in the last joint frame, m) at which the first axis reaches its limit. Gravity torque is
/// linear in the mass, tau_0 + m tau_1, so that each axis' limit T gives m = (T - sign(tau_1) tau_0) / |tau_1| and the
/// least of them holds. Springs count in tau_0; coupled joints as their axes, Cᵀ tau (see Coupling). What sets the
/// limit of each axis, model.continuous_part and peak_part tell.
void static_payloads(const Model& model, const Vec3& centre, Limit limit, std::span<const double> q, const StaticPayloads& out);

}  // namespace armwright
