#pragma once

#include <cstdint>
#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// Joint accelerations (rad/s²; m/s² where a joint slides) that torques bring about:
///   q̈ = (M + R)⁻¹ (tau − h(q, q̇) − g(q) + springs(q)),
/// tool and `load` (in the last joint frame) included; with `drives` the reflected inertia R of rotors and stages too
/// (see ReflectedInertia). `torque` is what drives give to the joints, N m; friction is not part of it.
/// `q`, `speed`, `torque`, `out`: rows × joint_count. `loose`: rows; the joint nearest to the base whose inertia, with
/// those after it held, is lost in rounding (its row of `out` is then 0), or -1.
void forward_dynamics(const Model& model, const Inertia& load, bool drives, std::span<const double> q, std::span<const double> speed,
                      std::span<const double> torque, std::span<double> out, std::span<std::int32_t> loose);

}  // namespace armwright
