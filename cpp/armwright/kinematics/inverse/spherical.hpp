#pragma once

#include <optional>

#include "armwright/kinematics/inverse/branches.hpp"
#include "armwright/kinematics/inverse/euler.hpp"
#include "armwright/kinematics/inverse/three_joints.hpp"

namespace armwright {

/// An arm whose axes 4, 5 and 6 meet: the first three joints place the point where they do, the last three turn.
struct SphericalSetup {
  ThreeJoints arm;
  EulerAxes wrist;
  Pose before;        ///< the chain's base frame seen from the closed form's
  Pose after;         ///< the closed form's last frame, at the wrist centre, seen from the end frame
  Rotation forearm;   ///< the frame before joint 4 seen from the frame that turns with joint 3
  JointAngles joints;
  double near_double = 0, near_axis = 0, worth_polishing = 0;  ///< see tolerances.hpp
};

/// Nothing if axes 4, 5, 6 do not meet, or joints 1 to 3 cannot move the wrist centre about in space.
std::optional<SphericalSetup> spherical_setup(const SixChain& chain);

/// The end pose by the closed form's own geometry: tells, against chain_end, how exact that is.
Pose spherical_end(const SphericalSetup& setup, const double* q);

/// Up to eight answers. Order: side of axis 1, elbow, wrist.
void solve_spherical(const SphericalSetup& setup, const Pose& target, double free_value, Branches& out);

}  // namespace armwright
