#pragma once

#include <span>

#include "armwright/dynamics/elastic_chain.hpp"

namespace armwright {

/// A cut through tube `span` of a chain, at `station` of its length: 0 its near end, 1 its far one.
struct TubeCut {
  std::size_t span = 0;
  double station = 0;
};

/// What the near side of a cut through a tube puts on all beyond it: force (N) and moment (N m) about the middle of the section,
/// along the tube, its width and its height. Newton and Euler on the rigid arm, body by body, with weight, counterbalances and
/// `load` (in the last joint frame); of the tube's own link only what is beyond the cut. A tube's own mass sits in four points a
/// piece, so that between the ends the moment of what is beyond is off by some percent of that of the piece's own weight.
/// `q`, `speed`, `acceleration`: rows × joint_count. `out`: rows × cuts × 6.
void section_wrenches(const Model& model, const ElasticChain& chain, const Inertia& load, std::span<const TubeCut> cuts,
                      std::span<const double> q, std::span<const double> speed, std::span<const double> acceleration,
                      std::span<double> out);

}  // namespace armwright
