#pragma once

#include <span>

#include "armwright/elements/bolt_group.hpp"

namespace armwright {

/// How often the shear and torsion of a load could be there before a clamped joint slips, and a figure that it surely does not pass.
struct SlipSafety {
  double safe;   ///< proven not to slip; infinity: nothing shears
  double bound;  ///< proven to slip beyond; the two meet within 0.1 %
};

/// Friction under each bolt bears up to friction * clamp in any direction. `clamps` N, 0 or more: what is left of the preload there.
/// Limit analysis of a stiff plate that slides by turning about a point of its plane: any shares that balance the load and nowhere
/// exceed friction are safe, any motion gives a bound (the two theorems of plasticity); shares in the ratio of clamp over sliding
/// speed, found anew from the motion they give, bring both together. Friction is taken as what it was with the clamps held still.
/// Where clamps lie in one place nothing bears torsion: `safe` is 0 then.
SlipSafety slip_safety(const BoltGroup& group, std::span<const double> clamps, double friction, const FaceLoad& load);

}  // namespace armwright
