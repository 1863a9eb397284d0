#pragma once

#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/support/later.hpp"

namespace armwright {

/// Inverses of the same arm with other joints, which some studies need besides its own.
struct KinArms {
  Later<ArmInverse> track_given;  ///< see with_track_given(); null where that is the arm's own
  Later<ArmInverse> spun;         ///< see spun_arm()
};

}  // namespace armwright
