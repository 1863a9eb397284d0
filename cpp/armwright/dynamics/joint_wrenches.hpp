#pragma once

#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

// A wrench is a force, N, then a moment, N m. Newton and Euler, as inverse_dynamics(), gravity, tool and `load` (in the last
// joint frame) included. Counterbalance springs act between the two links that they join, so that the joints between those
// bear them too. Rotors count where they sit, as mass of the link that carries them; the moments by which they speed up or
// are turned round are left out. `q`, `speed`, `acceleration`: rows × joint_count.

/// What the part before every joint puts on the link that the joint moves, in that link's described frame (Model::link_frame),
/// about its origin. The component along the joint's axis (of the moment; of the force where it slides) is what drive, brake
/// and friction carry, as inverse_dynamics() tells it; all the rest is the bearing's. `out`: rows × joint_count × 6.
void joint_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                    std::span<const double> acceleration, std::span<double> out);

/// What the arm with its base link puts on what that is bolted to, a floor or a track's carriage: in the mount's frame, about
/// its origin. Springs leave no mark: both their ends are on the arm. `out`: rows × 6.
void mount_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                    std::span<const double> acceleration, std::span<double> out);

/// What all that the joints move puts on what it stands on: with a track, the carriage on its rails; else what is beyond the first
/// joint on the foot. World axes, about the world's origin. Springs are left out. `out`: rows × 6.
void base_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                   std::span<const double> acceleration, std::span<double> out);

}  // namespace armwright
