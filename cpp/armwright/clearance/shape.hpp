#pragma once

#include <memory>
#include <string>
#include <vector>

#include "armwright/model/shape_spec.hpp"

namespace armwright {

struct CornerMap;
struct Mesh;

/// A solid made ready for distances, in its own frame. Every solid is a core blown up by `radius`: a sphere is a point,
/// a capsule a segment, the others are their own core with radius 0, so that no distance depends on a margin.
struct Shape {
  ShapeKind kind = ShapeKind::sphere;
  double radius = 0;         ///< m, added around the core
  Vec3 half{0, 0, 0};        ///< m: box: half edges; cylinder: (radius, radius, half height); capsule: (0, 0, half length)
  std::vector<Vec3> points;  ///< convex hull: its corners, m
  std::shared_ptr<const CornerMap> corner_map;  ///< of a convex hull with many
  std::shared_ptr<const Mesh> mesh;

  // Bounds, in the shape's frame; the half-space has none.
  Vec3 box_centre{0, 0, 0}, box_half{0, 0, 0};  ///< smallest box along the frame's axes, radius included
  Vec3 segment_centre{0, 0, 0}, segment_half{0, 0, 0};  ///< bounding capsule: centre, half way to an end
  double segment_radius = 0;
};

/// Whether the core is a point or a segment.
inline bool is_round(ShapeKind kind) { return kind == ShapeKind::sphere || kind == ShapeKind::capsule; }

/// Checks a description and makes it ready. Throws Refused, naming `key`, for: numbers that are not finite, sizes that
/// are not positive, points that enclose no volume, a mesh that is empty, open or of more than max_triangles.
/// A mesh that is convex becomes a convex hull.
Shape prepare_shape(const std::string& key, const ShapeSpec& spec);

inline constexpr std::size_t max_triangles = 2'000'000;

/// Where two solids are nearest. distance: m, negative when they overlap: then the first, moved by b - a, just touches
/// the second.
struct Separation {
  double distance;
  Vec3 a, b;  ///< on the first solid, on the second
};

}  // namespace armwright
