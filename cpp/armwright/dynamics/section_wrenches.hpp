#pragma once

#include <span>

#include "armwright/dynamics/elastic_chain.hpp"

namespace armwright {

/// What the near side of a cut through a tube puts on all beyond it, at both ends of every tube: force (N) and moment (N m) about
/// the middle of the section, along the tube, its width and its height. Newton and Euler on the rigid arm, body by body,
/// with weight, counterbalances and `load` (in the last joint frame); of the tube's own link only what is beyond the cut.
/// `q`, `speed`, `acceleration`: rows × joint_count. `out`: rows × spans × 2 × 6, near end and far end.
void section_wrenches(const Model& model, const ElasticChain& chain, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                      std::span<const double> acceleration, std::span<double> out);

}  // namespace armwright
