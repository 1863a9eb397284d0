#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "armwright/clearance/shape.hpp"

namespace armwright {

/// A closed surface of triangles, seen as the solid within, with a tree of boxes over them in flat arrays.
struct Mesh {
  struct Triangle {
    Vec3 corner[3];
    Vec3 normal;    ///< outward, of length 1 (0 for a triangle without area)
    Vec3 centre;    ///< of a ball around it
    double radius;
  };
  /// A box of the tree. A leaf holds triangles [first, first + count); a branch (count = 0) has its children at
  /// first and first + 1.
  struct Node {
    Vec3 centre, half;
    std::int32_t first, count;
  };
  std::vector<Triangle> triangles;  ///< in the order of the leaves
  std::vector<Node> nodes;          ///< nodes[0] is the root
  std::vector<Vec3> corners;        ///< each once
  std::vector<Vec3> samples;        ///< one corner of each connected piece of the surface
};

/// Checks that the triangles close a volume and builds the tree. Turns the surface inside out if it points inwards.
/// Throws Refused, naming `key`. `convex` tells whether the solid is.
Mesh build_mesh(const std::string& key, const std::vector<Vec3>& points, const std::vector<std::array<std::int32_t, 3>>& triangles, bool& convex);

/// Whether a point lies within the solid: how often a ray crosses the surface; should it graze an edge, another.
bool contains(const Mesh& mesh, const Vec3& p);

/// Signed distance of a convex core blown up by `radius` from the mesh; X_MC: the core's frame in the mesh's. Points in
/// the mesh's frame, a on the core. Distances above `cutoff` need not be exact. An overlap's depth is the length of a
/// move that does part the two: the shortest of those straight out through a triangle that the core crosses (or is
/// nearest to, if it is wholly inside) and those out of the mesh's box. For small overlaps with a face it is the least
/// there is; a slanting way out of a notch or over an edge may be shorter.
struct Core;
Separation core_mesh(const Core& core, double radius, const Pose& X_MC, const Mesh& mesh, double cutoff);
/// The same for two meshes, with X_AB; the way out is that of the crossing triangles, lengthened where it must be.
Separation mesh_mesh(const Mesh& a, const Mesh& b, const Pose& X_AB, double cutoff);
/// The corner of the mesh farthest along a direction.
Vec3 farthest_corner(const Mesh& mesh, const Vec3& way);

}  // namespace armwright
