#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "armwright/spatial/pose.hpp"

namespace armwright {

enum class ShapeKind : std::uint8_t { box, cylinder, capsule, sphere, half_space, convex_hull, mesh };

/// A solid. Box: edges `size` about the origin. Cylinder and capsule: along z, centred; `length` is the cylinder's
/// height or the distance between the capsule's two cap centres. Half-space: all points with z <= 0. Convex hull: of
/// `points`. Mesh: a closed surface of `triangles` over `points`, counter-clockwise seen from outside.
struct ShapeSpec {
  ShapeKind kind = ShapeKind::sphere;
  std::string name;
  Pose pose = identity_pose;  ///< shape frame in its owner's frame (a link's, or the world's)
  Vec3 size{0, 0, 0};         ///< box, m
  double radius = 0;          ///< cylinder, capsule, sphere, m
  double length = 0;          ///< cylinder, capsule, m
  std::vector<Vec3> points;   ///< convex hull, mesh, m
  std::vector<std::array<std::int32_t, 3>> triangles;
  double clearance = 0;       ///< fixtures: the distance to be kept, m
};

}  // namespace armwright
