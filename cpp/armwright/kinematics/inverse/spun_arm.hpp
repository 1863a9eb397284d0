#pragma once

#include <memory>
#include <vector>

#include "armwright/kinematics/inverse/arm_inverse.hpp"

namespace armwright {

/// The arm with one more joint, a turn about the tool's z axis: what it reaches, the arm reaches but for the spin about that
/// axis. Null where the arm needs no such help: where six joints are solved, so that every spin can be tried by itself, or
/// where the spin adds no freedom. Prepared when it is first asked for.
std::shared_ptr<const ArmInverse> spun_arm(const ArmInverse& inverse);

/// The spins about the target's z axis, rad, at which the arm reaches the target exactly: target · Rz(spin). `held`: the
/// values of the redundant joints.
std::vector<double> exact_spins(const ArmInverse& spun, const std::vector<double>& held, const Pose& target);

}  // namespace armwright
