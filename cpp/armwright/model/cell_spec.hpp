#pragma once

#include <optional>
#include <utility>

#include "armwright/model/arm_spec.hpp"

namespace armwright {

/// A linear track: a carriage that slides along `axis` of the track frame. q[0] is the carriage's way from the
/// track frame's origin, m.
struct TrackSpec {
  Pose pose = identity_pose;  ///< track frame in the world
  Vec3 axis{1, 0, 0};         ///< unit vector in the track frame
  double lower = 0, upper = 0;
  LinkSpec carriage;          ///< mass and shapes, in the carriage frame (parallel to the track frame)
  std::vector<ShapeSpec> rails;  ///< shapes that stand still, in the track frame
  double force_continuous = unlimited, force_peak = unlimited;
  double speed = unlimited, acceleration = unlimited, jerk = unlimited;  ///< m/s, m/s², m/s³
  std::optional<DriveSpec> drive;
};

struct ToolSpec {
  std::string name = "tool";
  Pose tool_point = identity_pose;  ///< tool frame in the flange frame
  Inertia inertia;                  ///< in the flange frame
  std::vector<ShapeSpec> shapes;    ///< poses in the flange frame
};

/// What the tool carries. Told in the tool frame.
struct LoadSpec {
  std::string name = "load";
  Inertia inertia;
  std::vector<ShapeSpec> shapes;
};

/// Everything in one place: what compile() turns into a Model and the clearance room into a Scene.
struct CellSpec {
  ArmSpec arm;
  std::optional<TrackSpec> track;
  Pose mount = identity_pose;  ///< arm base in the world, or on the carriage if there is a track
  ToolSpec tool;
  std::optional<LoadSpec> load;
  std::vector<ShapeSpec> fixtures;  ///< poses in the world
  Vec3 gravity{0, 0, -9.80665};     ///< m/s², in the world
  /// Pairs of link names never to be checked against each other, beyond those found to touch by design.
  std::vector<std::pair<std::string, std::string>> ignored_pairs;
};

}  // namespace armwright
