#pragma once

#include <Eigen/Core>
#include <span>

namespace armwright {

/// A rail, or the beam under it, over equal spans on rigid supports that hold it both ways and, but for its two ends, let it
/// turn. One span: the simple beam, or the one built in at both ends.
struct RailBeam {
  double stiffness;  ///< E I, N m²
  double span;       ///< between supports, m
  int spans;         ///< 1 or more
  bool built_in;     ///< whether its two ends are held against turning; else simply supported
};

/// What a train of loads does to the beam, linear in the loads: rows times loads (N, towards the rail positive).
struct RailInfluence {
  Eigen::MatrixXd deflection;  ///< (loads, loads) m/N under each load, along the load
  Eigen::MatrixXd moment;      ///< (loads + spans + 1, loads) N m/N: under each load, then over each support; sagging positive
};

/// The train with its loads at `places` (m, from the beam's first support); a load beyond the ends does nothing. Support moments
/// by Clapeyron's theorem of three moments, M₋ + 4 M + M₊ = −(right and left load terms) of equal spans, 2 M + M₊ = −(load term) at
/// an end built in; within a span the simple beam's deflection and that of the moments at its ends (Euler and Bernoulli: shear is
/// not counted). The greatest moments of a beam under point loads are under a load or over a support.
RailInfluence rail_influence(const RailBeam& beam, std::span<const double> places);

}  // namespace armwright
