#pragma once

#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// What all that the joints move, with tool and load, puts on what it stands on in a motion: force, N, then moment about the
/// world's origin, N m, both in world axes, weight included. With a track that is what the carriage puts on its rails, else what
/// is beyond the first joint puts on the foot. Newton–Euler, as
/// inverse_dynamics(); springs, rotors and friction act between parts of the arm and leave no mark, but for rotors' reactions
/// about their own axes, which are left out. `q`, `speed`, `acceleration`: rows × joint_count. `out`: rows × 6.
void base_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                   std::span<const double> acceleration, std::span<double> out);

}  // namespace armwright
