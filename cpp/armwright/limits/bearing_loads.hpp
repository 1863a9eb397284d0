#pragma once

#include <span>

#include "armwright/elements/bearing_pair.hpp"
#include "armwright/elements/slewing_bearing.hpp"
#include "armwright/spatial/vector3.hpp"

namespace armwright {

/// Where a joint's bearing stands: the joint's axis (unit vector) in the link's described frame, and how far along it from that frame's
/// origin the bearing's middle is, m.
struct BearingPlace {
  Vec3 axis;
  double offset;
};

/// What a joint's bearing or pair of bearings has to take of a joint wrench: forces N, moment N m about its middle. What turns
/// about the axis is the drive's and not in it.
struct BearingDemand {
  double axial = 0;                              ///< along the axis, with sign, on the part that moves
  double radial = 0, moment = 0;                 ///< square to the axis
  double radial_x = 0, radial_y = 0, moment_x = 0, moment_y = 0;  ///< the same in two axes square to it
};

/// `wrench`: force then moment on the link that the joint moves, in the link's described frame about its origin.
BearingDemand bearing_demand(const BearingPlace& place, std::span<const double, 6> wrench);

/// Loads on one bearing, N (moment N m: slewing only), its dynamic and static equivalent load, N, and whether Fa/C0 is beyond the
/// table of the standard.
struct BearingLoads {
  double radial = 0, axial = 0, moment = 0, equivalent = 0, static_equivalent = 0;
  bool beyond_table = false;
};

BearingLoads slewing_loads(const SlewingBearing& bearing, const BearingDemand& demand);

/// Near and far. Where the ring that moves is unknown, the greater of both ways in each.
void pair_loads_of(const BearingPair& pair, const BearingDemand& demand, std::span<BearingLoads, 2> out);

/// Least of C0/P0 over the bearings, or of moment rating over moment; infinite where nothing presses, NaN where no rating is told.
double static_safety(const SlewingBearing& bearing, const BearingDemand& demand);
double static_safety(const BearingPair& pair, const BearingDemand& demand);

/// Over rows of joint wrenches (rows × 6), one entry a row for a slewing bearing, two (near, far) for a pair.
void slewing_rows(const SlewingBearing& bearing, const BearingPlace& place, std::span<const double> wrench, std::span<BearingLoads> out);
void pair_rows(const BearingPair& pair, const BearingPlace& place, std::span<const double> wrench, std::span<BearingLoads> out);

/// The least span, m, at which a pair has a static safety over all rows, its middle kept. P0 bends upwards only with 1/(distance of the
/// pressure centres), so that the spans that serve are in one piece: where it falls at first (a moment relieves the weaker bearing), its
/// least is looked for, and from there the end by halving. Infinite: no span is enough; 0: any is.
double needed_span(const BearingPair& pair, const BearingPlace& place, std::span<const double> wrench, double wanted_safety);

/// The greatest tilting moment, N m, that leaves a static safety together with a radial force (N, in the moment's plane, whichever way
/// is worse) and an axial one with sign, N. NaN where not even without moment.
double greatest_moment(const SlewingBearing& bearing, double radial, double axial, double wanted_safety);
double greatest_moment(const BearingPair& pair, double radial, double axial, double wanted_safety);

}  // namespace armwright
