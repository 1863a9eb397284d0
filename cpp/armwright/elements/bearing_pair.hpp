#pragma once

#include <array>
#include <cstdint>

#include "armwright/elements/rolling_bearing.hpp"

namespace armwright {

/// How two bearings on one axis share the axial load. `fixed_*`: the one named takes all of it, the other slides.
enum class Arrangement : std::int8_t { face_to_face, back_to_back, fixed_near, fixed_far };

/// Which ring goes with the part that moves: it decides which bearing an axial force presses. `unknown`: the worse of both counts.
enum class MovedRing : std::int8_t { unknown, inner, outer };

/// Two bearings on one axis. "Near" stands lower along the axis than "far".
struct BearingPair {
  std::array<RollingBearing, 2> bearing;  ///< near, far
  Arrangement arrangement = Arrangement::back_to_back;
  MovedRing moved_ring = MovedRing::unknown;
  double span = 0;             ///< m, between the middles of the bearings
  double pressure_centre = 0;  ///< m from each bearing's middle: where the lines through its slanted contacts meet the axis
  double preload = 0;          ///< N, axial, in both, without load
};

/// Distance between the pressure centres, m: longer than the span back to back, shorter face to face; 0 or less: they meet or cross.
double effective_span(const BearingPair& pair);

/// Radial forces on near and far, N, in two axes x, y square to the pair's axis z (right-handed), from the force (N) and
/// moment (N m) about the middle of the pair. Statics of a stiff shaft on two hinges.
struct PairRadial {
  std::array<double, 2> x, y;
};
PairRadial pair_radial(double force_x, double force_y, double moment_x, double moment_y, double effective_span);

/// Axial loads, N, of two bearings set against one another: of the one that an external force presses, and of the other.
struct PairAxial {
  double pressed, other;
};

/// Balance pressed = other + external, each not less than what its own radial load makes (`induced`, N, as makers' catalogues have it,
/// from memory); and, with a preload (N), the other not less than what that leaves it: preload - share · external, where `share`
/// is 1/3 for balls, 1/2 for rollers (common practice: lines in place of the contacts' curves).
PairAxial pair_axial(double induced_pressed, double induced_other, double external, double preload, double share);

/// Loads on near and far, N, without sign.
struct PairLoads {
  std::array<double, 2> radial, axial;
};

/// Of one way round: `axial` is the force along +z that the pair puts on the part that moves. moved_ring counts unless unknown,
/// and then `inner` is taken.
PairLoads pair_loads(const BearingPair& pair, const PairRadial& forces, double axial);

}  // namespace armwright
