#pragma once

#include "armwright/spatial/pose.hpp"

namespace armwright {

/// A rigid body's mass (kg), centre of gravity (m) and inertia about that centre (kg m²: xx, yy, zz, xy, xz, yz), all
/// in one frame.
struct Inertia {
  double mass = 0;
  Vec3 centre{0, 0, 0};
  double xx = 0, yy = 0, zz = 0, xy = 0, xz = 0, yz = 0;
};

/// The same body told in frame A, for X_AB and an inertia in B.
Inertia operator*(const Pose& X_AB, const Inertia& body);

/// Two bodies as one.
Inertia operator+(const Inertia& a, const Inertia& b);

}  // namespace armwright
