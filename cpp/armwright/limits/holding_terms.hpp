#pragma once

#include <array>

#include "armwright/kinematics/chain.hpp"

namespace armwright {

/// What the bound on an axis' torque is made of, once for a model and a load.
struct HoldingTerms {
  std::size_t n = 0;
  std::array<double, max_joints> low{}, high{};   ///< ranges searched
  std::array<double, max_joints> lever{};         ///< greatest mass moment beyond a joint, square to its axis, kg m; mass beyond where it slides, kg
  std::array<double, max_joints> across{};        ///< greatest |g × z|, m/s²
  bool bounded = true;
};

HoldingTerms holding_terms(const Model& model, const Inertia& load);

/// Greatest |∂²τ_i/∂q_j∂q_k| over all postures, the weights' alone.
double second_slope(const Model& model, const HoldingTerms& terms, std::size_t i, std::size_t j, std::size_t k);

/// Torques of the weights that all joints hold at a posture, and how each changes with every joint: slope[i * n + j] = ∂τ_i/∂q_j.
struct HeldTorques {
  std::array<double, max_joints> torque;
  std::array<double, max_joints * max_joints> slope;
};
void held_torques(const Model& model, const Inertia& load, const double* q, HeldTorques& out);

}  // namespace armwright
