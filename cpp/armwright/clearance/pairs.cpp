#include "armwright/clearance/pairs.hpp"

#include <cmath>
#include <limits>

#include "armwright/clearance/convex.hpp"
#include "armwright/clearance/mesh.hpp"
#include "armwright/clearance/primitives.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// Blows two cores up by their radii. Where the cores themselves only touch there is no direction between the points;
// `way` (from the second to the first) then serves.
Separation blown_up(const Separation& core, double radius_a, double radius_b, const Vec3& way) {
  const double radii = radius_a + radius_b;
  if (radii == 0) return core;
  Vec3 n = way;  // from b towards a, along which a is to go
  if (std::fabs(core.distance) > 1e-12) n = (1 / core.distance) * (core.a - core.b);
  return {core.distance - radii, core.a - radius_a * n, core.b + radius_b * n};
}

Vec3 any_normal(const Vec3& a, const Vec3& b) {
  const Vec3 n = cross(a, b);
  if (dot(n, n) > 1e-20 * dot(a, a) * dot(b, b)) return (1 / norm(n)) * n;
  const Vec3 along = dot(a, a) >= dot(b, b) ? a : b;
  return dot(along, along) > 0 ? frame_on((1 / norm(along)) * along).x : Vec3{0, 0, 1};
}

// The points of a capsule's or a sphere's core in its own frame; the storage is the caller's.
struct Small {
  Vec3 points[2];
};

Core core_of(const Shape& shape, Small& small) {
  Core core;
  core.half = core.box_half = shape.half;
  switch (shape.kind) {
    case ShapeKind::box: core.kind = Core::Kind::box; break;
    case ShapeKind::cylinder: core.kind = Core::Kind::cylinder; break;
    case ShapeKind::capsule:
    case ShapeKind::sphere:
      core.kind = Core::Kind::points;
      small.points[0] = {0, 0, -shape.half.z};
      small.points[1] = {0, 0, shape.half.z};
      core.points = small.points;
      core.count = shape.kind == ShapeKind::capsule ? 2 : 1;
      break;
    default:
      core.kind = Core::Kind::points;
      core.points = shape.points.data();
      core.count = shape.points.size();
      core.map = shape.corner_map.get();
      core.box_centre = shape.box_centre;
      core.box_half = shape.box_half;
  }
  return core;
}

// The solid's point lowest along n (told in the world); where a whole face or edge is lowest, its middle.
Vec3 lowest(const Shape& s, const Pose& X_WS, const Vec3& n) {
  const Vec3 way = transpose_times(X_WS.rotation, n);
  const auto side = [](double half, double along) { return std::fabs(along) < 1e-14 ? 0.0 : -std::copysign(half, along); };
  Vec3 p{0, 0, 0};
  switch (s.kind) {
    case ShapeKind::box: p = {side(s.half.x, way.x), side(s.half.y, way.y), side(s.half.z, way.z)}; break;
    case ShapeKind::sphere:
    case ShapeKind::capsule: p = {0, 0, side(s.half.z, way.z)}; break;
    case ShapeKind::cylinder: {
      const double across = std::hypot(way.x, way.y);
      const double scale = across < 1e-14 ? 0.0 : -s.half.x / across;
      p = {scale * way.x, scale * way.y, side(s.half.z, way.z)};
      break;
    }
    case ShapeKind::mesh: p = farthest_corner(*s.mesh, -way); break;
    default: {
      Small none;
      p = support(core_of(s, none), -way);
    }
  }
  return X_WS * p - s.radius * n;
}

Separation with_half_space(const Shape& a, const Pose& X_WA, const Pose& X_WB) {
  const Vec3 n = X_WB.rotation.z;
  if (a.kind == ShapeKind::half_space) {
    // Two half-spaces part only if they look at each other; else no move parts them.
    const double facing = dot(n, X_WA.rotation.z);
    if (facing > -1 + 1e-12) return {-infinity, X_WA.position, X_WB.position};
    const double gap = dot(X_WA.position - X_WB.position, n);
    return {gap, X_WA.position, X_WA.position - gap * n};
  }
  const Vec3 p = lowest(a, X_WA, n);
  const double height = dot(p - X_WB.position, n);
  return {height, p, p - height * n};
}

Separation turned(const Separation& s) { return {s.distance, s.b, s.a}; }
Separation in_world(const Pose& X, const Separation& s) { return {s.distance, X * s.a, X * s.b}; }

Separation with_mesh(const Shape& a, const Pose& X_WA, const Shape& b, const Pose& X_WB, double cutoff) {
  const Pose X_BA = inverse(X_WB) * X_WA;
  if (a.kind == ShapeKind::mesh) return in_world(X_WA, mesh_mesh(*a.mesh, *b.mesh, inverse(X_WA) * X_WB, cutoff));
  Small small;
  return in_world(X_WB, core_mesh(core_of(a, small), a.radius, X_BA, *b.mesh, cutoff));
}

Separation with_general(const Shape& a, const Pose& X_WA, const Shape& b, const Pose& X_WB) {
  Small on_a, on_b;
  const Separation found = convex_separation(core_of(a, on_a), core_of(b, on_b), inverse(X_WA) * X_WB);
  return blown_up(in_world(X_WA, found), a.radius, b.radius, {0, 0, 1});
}

// The half way from end to end of a capsule (none for a sphere), in the world.
Vec3 way_of(const Shape& s, const Pose& X) { return s.half.z * X.rotation.z; }

// The first comes before the second in this order.
int rank(ShapeKind kind) {
  switch (kind) {
    case ShapeKind::sphere: return 0;
    case ShapeKind::capsule: return 1;
    case ShapeKind::box: return 2;
    case ShapeKind::cylinder: return 3;
    case ShapeKind::convex_hull: return 4;
    case ShapeKind::mesh: return 5;
    default: return 6;
  }
}

Separation round_with_box(const Shape& a, const Pose& X_WA, const Shape& b, const Pose& X_WB) {
  const Vec3 p = transpose_times(X_WB.rotation, X_WA.position - X_WB.position);
  if (a.kind == ShapeKind::sphere) {
    const Separation found = point_box(p, b.half);
    const double s = norm(p) > 0 ? 1 / norm(p) : 0;
    return blown_up(in_world(X_WB, found), a.radius, 0, s > 0 ? X_WB.rotation * (s * p) : X_WB.rotation.z);
  }
  const Vec3 way = transpose_times(X_WB.rotation, way_of(a, X_WA));
  return blown_up(in_world(X_WB, segment_box(p, way, b.half)), a.radius, 0, any_normal(X_WA.rotation.z, X_WB.rotation.z));
}

// So nearly that a turn about their middle moves nothing by more than rounding.
bool are_parallel(const Vec3& a, const Vec3& b) {
  const Vec3 n = cross(a, b);
  return dot(n, n) < 1e-28;
}

Separation round_with_cylinder(const Shape& a, const Pose& X_WA, const Shape& b, const Pose& X_WB) {
  const Vec3 p = transpose_times(X_WB.rotation, X_WA.position - X_WB.position);
  if (a.kind == ShapeKind::sphere) return blown_up(in_world(X_WB, point_cylinder(p, b.half)), a.radius, 0, X_WB.rotation.z);
  bool overlap = false;
  const Separation found = segment_cylinder(p, transpose_times(X_WB.rotation, way_of(a, X_WA)), b.half, overlap);
  if (overlap) return with_general(a, X_WA, b, X_WB);
  return blown_up(in_world(X_WB, found), a.radius, 0, X_WB.rotation.z);
}

Separation ordered(const Shape& a, const Pose& X_WA, const Shape& b, const Pose& X_WB, double cutoff) {
  if (b.kind == ShapeKind::half_space) return with_half_space(a, X_WA, X_WB);
  if (b.kind == ShapeKind::mesh) return with_mesh(a, X_WA, b, X_WB, cutoff);
  if (is_round(a.kind)) {
    if (is_round(b.kind)) {
      const Vec3 d1 = way_of(a, X_WA), d2 = way_of(b, X_WB);
      const Separation core = segment_segment(X_WA.position, d1, X_WB.position, d2);
      return blown_up(core, a.radius, b.radius, any_normal(d1, d2));
    }
    if (b.kind == ShapeKind::box) return round_with_box(a, X_WA, b, X_WB);
    if (b.kind == ShapeKind::cylinder) return round_with_cylinder(a, X_WA, b, X_WB);
  }
  if (a.kind == ShapeKind::box && b.kind == ShapeKind::box)
    return in_world(X_WA, box_box(a.half, b.half, inverse(X_WA) * X_WB));
  if (a.kind == ShapeKind::cylinder && b.kind == ShapeKind::cylinder && are_parallel(X_WA.rotation.z, X_WB.rotation.z))
    return in_world(X_WB, parallel_cylinders(transpose_times(X_WB.rotation, X_WA.position - X_WB.position), a.half, b.half));
  return with_general(a, X_WA, b, X_WB);
}

}  // namespace

Separation separation(const Shape& a, const Pose& X_WA, const Shape& b, const Pose& X_WB, double cutoff) {
  Separation found = rank(a.kind) > rank(b.kind) ? turned(ordered(b, X_WB, a, X_WA, cutoff)) : ordered(a, X_WA, b, X_WB, cutoff);
  found.distance += 0.0;  // no minus zero
  return found;
}

}  // namespace armwright
