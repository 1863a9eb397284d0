#include "armwright/clearance/shape.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "armwright/clearance/corner_map.hpp"
#include "armwright/clearance/hull.hpp"
#include "armwright/clearance/mesh.hpp"
#include "armwright/model/check.hpp"
#include "armwright/support/refused.hpp"

namespace armwright {

namespace {

// Beyond this, squares of lengths lose the digits that the distances need.
constexpr double greatest_length = 1e5;

void check_length(const std::string& key, double value) {
  if (std::isfinite(value) && value > 0 && value <= greatest_length) return;
  std::ostringstream shown;
  shown << value << " m";
  throw Refused(key, shown.str(), "a length above 0, at most 1e5 m");
}

void check_points(const std::string& key, const std::vector<Vec3>& points) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec3& p = points[i];
    const double most = std::max({std::fabs(p.x), std::fabs(p.y), std::fabs(p.z)});
    if (!(std::isfinite(p.x + p.y + p.z) && most <= greatest_length)) {
      std::ostringstream shown;
      shown << "(" << p.x << ", " << p.y << ", " << p.z << ")";
      throw Refused(key + " point " + std::to_string(i), shown.str(), "finite numbers of at most 1e5 m");
    }
  }
}

// Whether the points span a volume: the spread along x, the distance from that line, the height above that plane.
void check_volume(const std::string& key, const std::vector<Vec3>& points) {
  if (points.size() > max_triangles) throw Refused(key, std::to_string(points.size()) + " points", "at most " + std::to_string(max_triangles) + ": reduce them");
  if (points.size() < 4) throw Refused(key, std::to_string(points.size()) + " points", "4 points or more that enclose a volume");
  const auto farthest = [&](const auto& measure) {
    return *std::max_element(points.begin(), points.end(), [&](const Vec3& p, const Vec3& q) { return measure(p) < measure(q); });
  };
  const Vec3 a = points.front();
  const Vec3 b = farthest([&](const Vec3& p) { return norm(p - a); });
  const Vec3 c = farthest([&](const Vec3& p) { return norm(cross(p - a, b - a)); });
  const Vec3 n = cross(b - a, c - a);
  const Vec3 d = farthest([&](const Vec3& p) { return std::fabs(dot(p - a, n)); });
  const double size = norm(b - a);
  if (!(std::fabs(dot(d - a, n)) > 1e-9 * size * size * size)) throw Refused(key, "points in one plane", "points that enclose a volume");
}

void bound_by_points(Shape& shape, const std::vector<Vec3>& points) {
  Vec3 low = points.front(), high = low;
  for (const Vec3& p : points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  shape.box_centre = 0.5 * (low + high);
  shape.box_half = 0.5 * (high - low);
  // A capsule along the box's longest side, its radius the farthest corner from the segment.
  const Vec3 h = shape.box_half;
  shape.segment_centre = shape.box_centre;
  double across = 0;
  for (const Vec3& p : points) {
    const Vec3 v = p - shape.box_centre;
    const double rx = std::hypot(v.y, v.z), ry = std::hypot(v.x, v.z), rz = std::hypot(v.x, v.y);
    across = std::max(across, h.x >= h.y && h.x >= h.z ? rx : h.y >= h.z ? ry : rz);
  }
  double along = 0;
  for (const Vec3& p : points) {
    const Vec3 v = p - shape.box_centre;
    const double x = std::fabs(h.x >= h.y && h.x >= h.z ? v.x : h.y >= h.z ? v.y : v.z);
    const double r2 = dot(v, v) - x * x;
    along = std::max(along, x - std::sqrt(std::max(0.0, across * across - r2)));
  }
  along = std::max(along, 0.0);
  shape.segment_half = h.x >= h.y && h.x >= h.z ? Vec3{along, 0, 0} : h.y >= h.z ? Vec3{0, along, 0} : Vec3{0, 0, along};
  shape.segment_radius = across * (1 + 1e-12);
}

void prepare_box(Shape& shape, const std::string& key, const Vec3& size) {
  check_length(key + " size x", size.x);
  check_length(key + " size y", size.y);
  check_length(key + " size z", size.z);
  shape.half = 0.5 * size;
  std::vector<Vec3> corners;
  for (int i = 0; i < 8; ++i) corners.push_back({i & 1 ? shape.half.x : -shape.half.x, i & 2 ? shape.half.y : -shape.half.y, i & 4 ? shape.half.z : -shape.half.z});
  bound_by_points(shape, corners);
}

void prepare_round(Shape& shape, const std::string& key, const ShapeSpec& spec) {
  check_length(key + " radius", spec.radius);
  const double r = spec.radius;
  if (spec.kind != ShapeKind::sphere) check_length(key + " length", spec.length);
  const double z = spec.kind == ShapeKind::sphere ? 0 : 0.5 * spec.length;
  if (spec.kind == ShapeKind::cylinder) {
    shape.half = {r, r, z};
    shape.box_half = shape.half;
    // A slim one in the capsule of the same radius, a flat one in a sphere.
    shape.segment_half = {0, 0, z > r ? z : 0};
    shape.segment_radius = z > r ? r : std::hypot(r, z) * (1 + 1e-12);
    return;
  }
  shape.radius = r;
  shape.half = shape.segment_half = {0, 0, z};
  shape.segment_radius = r;
  shape.box_half = {r, r, r + z};
}

void prepare_hull(Shape& shape, const std::vector<Vec3>& points) {
  shape.points = hull_corners(points);
  if (shape.points.size() >= worth_a_map) shape.corner_map = std::make_shared<const CornerMap>(map_corners(shape.points));
}

}  // namespace

Shape prepare_shape(const std::string& key, const ShapeSpec& spec) {
  check_pose(key + " pose", spec.pose);
  Shape shape;
  shape.kind = spec.kind;
  switch (spec.kind) {
    case ShapeKind::box: prepare_box(shape, key, spec.size); break;
    case ShapeKind::sphere:
    case ShapeKind::capsule:
    case ShapeKind::cylinder: prepare_round(shape, key, spec); break;
    case ShapeKind::half_space: break;
    case ShapeKind::convex_hull:
      check_points(key, spec.points);
      check_volume(key, spec.points);
      prepare_hull(shape, spec.points);
      bound_by_points(shape, shape.points);
      break;
    case ShapeKind::mesh: {
      check_points(key, spec.points);
      bool convex = false;
      auto mesh = std::make_shared<Mesh>(build_mesh(key, spec.points, spec.triangles, convex));
      bound_by_points(shape, mesh->corners);
      if (convex) {
        shape.kind = ShapeKind::convex_hull;
        prepare_hull(shape, mesh->corners);
      } else {
        shape.mesh = std::move(mesh);
      }
      break;
    }
  }
  return shape;
}

}  // namespace armwright
