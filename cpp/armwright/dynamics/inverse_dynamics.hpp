#pragma once

#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// Joint torques (N m; N for a prismatic joint) for a motion: recursive Newton–Euler (J. Luh, M. Walker, R. Paul,
/// "On-Line Computational Scheme for Mechanical Manipulators", 1980), gravity, tool and `load` (in the last joint
/// frame) included, less what counterbalance springs give; no friction. With `drives` the torque that accelerates rotors
/// and stages is added (see ReflectedInertia): it is then what the motors give, carried to the joints without losses.
/// `q`, `speed`, `acceleration`, `out`: rows × joint_count.
void inverse_dynamics(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                      std::span<const double> acceleration, std::span<double> out, bool drives = false);

/// Joint-space mass matrices (kg m²; kg m and kg where joints slide), with `drives` the reflected inertia of rotors and
/// stages in it. `out`: rows × joint_count × joint_count.
void mass_matrices(const Model& model, const Inertia& load, std::span<const double> q, std::span<double> out, bool drives = false);

}  // namespace armwright
