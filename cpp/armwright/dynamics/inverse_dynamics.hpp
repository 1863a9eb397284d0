#pragma once

#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// Joint torques (N m; N for a prismatic joint) for a motion: recursive Newton–Euler (J. Luh, M. Walker, R. Paul,
/// "On-Line Computational Scheme for Mechanical Manipulators", 1980), gravity, tool and `load` (in the last joint
/// frame) included; no friction, no rotor inertia. `q`, `speed`, `acceleration`, `out`: rows × joint_count.
void inverse_dynamics(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                      std::span<const double> acceleration, std::span<double> out);

/// Joint-space mass matrices (kg m²; kg m and kg where joints slide). `out`: rows × joint_count × joint_count.
void mass_matrices(const Model& model, const Inertia& load, std::span<const double> q, std::span<double> out);

}  // namespace armwright
