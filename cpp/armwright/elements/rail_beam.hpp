#pragma once

#include <Eigen/Core>
#include <span>

namespace armwright {

/// A rail, or the beam under it, over equal spans on rigid supports that hold it both ways and let it turn; the ends simply
/// supported. One span: the simply supported beam.
struct RailBeam {
  double stiffness;  ///< E I, N m²
  double span;       ///< between supports, m
  int spans;         ///< 1 or more
};

/// What a train of loads does to the beam, linear in the loads: rows times loads (N, towards the rail positive).
struct RailInfluence {
  Eigen::MatrixXd deflection;  ///< (loads, loads) m/N under each load, along the load
  Eigen::MatrixXd moment;      ///< (loads + inner supports, loads) N m/N: under each load, then over each inner support; sagging positive
};

/// The train with its loads at `places` (m, from the beam's first support); a load beyond the ends does nothing. Support moments
/// by Clapeyron's theorem of three moments, M₋ + 4 M + M₊ = −6 (A a₋ + A b₊)/L² of equal spans; within a span the simple beam's
/// deflection and that of the moments at its ends (Euler and Bernoulli: shear is not counted). The greatest moments of
/// a beam under point loads are under a load or over a support.
RailInfluence rail_influence(const RailBeam& beam, std::span<const double> places);

}  // namespace armwright
