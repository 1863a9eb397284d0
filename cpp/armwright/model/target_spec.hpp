#pragma once

#include <string>

#include "armwright/spatial/pose.hpp"

namespace armwright {

/// A work point: where the tool frame must come, and how free its attitude is.
struct TargetSpec {
  std::string name;
  Pose pose = identity_pose;  ///< tool frame in the world
  bool free_spin = false;     ///< any turn about the tool's z axis will do
  double tilt = 0;            ///< half-angle of the cone that the tool's z axis may lie in, rad
  double tolerance = 0;       ///< how far from the point the tool may be, m
  double mass = 0;            ///< load to be held there, kg
  Vec3 load_centre{0, 0, 0};  ///< its centre of gravity in the tool frame, m
};

}  // namespace armwright
