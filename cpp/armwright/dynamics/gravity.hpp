#pragma once

#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// Torque (N m; force in N for a prismatic joint) that the drive of each joint must hold at rest: arm, tool and `load`
/// (in the last joint frame; mass 0 for none) against gravity, less what counterbalance springs give. Positive in the
/// joint's positive sense. `out`: rows × joint_count.
void gravity_torques(const Model& model, const Inertia& load, std::span<const double> q, std::span<double> out);

}  // namespace armwright
