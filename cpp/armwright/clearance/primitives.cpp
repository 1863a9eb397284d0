#include "armwright/clearance/primitives.hpp"

#include <cmath>
#include <limits>

#include "armwright/clearance/segments.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

Separation between(const Vec3& a, const Vec3& b) { return {norm(a - b), a, b}; }

// The least way out of an overlap of two polytopes among the directions tried: the second is to stay, the first to
// be moved. For polytopes the normals of the faces of their set of differences are enough to find the true least.
struct WayOut {
  double depth = std::numeric_limits<double>::infinity();
  Vec3 way{0, 0, 1};

  // `reach`: half widths of both bodies along the direction; `offset`: first centre minus second.
  void offer(const Vec3& direction, double reach, const Vec3& offset) {
    const double along = dot(direction, offset);
    const double here = reach - std::fabs(along);
    if (here < depth) depth = here, way = along < 0 ? -direction : direction;
  }
};

double half_width(const Vec3& half, const Vec3& direction) {
  return half.x * std::fabs(direction.x) + half.y * std::fabs(direction.y) + half.z * std::fabs(direction.z);
}

}  // namespace

Separation point_box(const Vec3& p, const Vec3& half) {
  const Vec3 out = excess(p, half);
  if (dot(out, out) > 0) return {norm(out), p, p - out};
  const double depth[3] = {half.x - std::fabs(p.x), half.y - std::fabs(p.y), half.z - std::fabs(p.z)};
  if (depth[0] <= depth[1] && depth[0] <= depth[2]) return {-depth[0], p, {std::copysign(half.x, p.x), p.y, p.z}};
  if (depth[1] <= depth[2]) return {-depth[1], p, {p.x, std::copysign(half.y, p.y), p.z}};
  return {-depth[2], p, {p.x, p.y, std::copysign(half.z, p.z)}};
}

Separation segment_box(const Vec3& centre, const Vec3& way, const Vec3& half) {
  const Vec3 p = centre + nearest_to_box(centre, way, half) * way;
  const Vec3 out = excess(p, half);
  if (dot(out, out) > 0) return {norm(out), p, p - out};
  // Faces of box minus segment: the box's own, and those swept by an edge of the box along the segment.
  WayOut best;
  static constexpr Vec3 axes[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  for (const Vec3& axis : axes) {
    best.offer(axis, half_width(half, axis) + std::fabs(dot(axis, way)), centre);
    const Vec3 n = cross(axis, way);
    const double length = norm(n);
    if (length > 1e-12 * norm(way)) best.offer((1 / length) * n, half_width(half, (1 / length) * n), centre);
  }
  const Vec3 moved = centre + best.depth * best.way;
  const Vec3 touching = moved + nearest_to_box(moved, way, half) * way;
  return {-best.depth, touching - best.depth * best.way, touching};
}

Separation segment_segment(const Vec3& c1, const Vec3& d1, const Vec3& c2, const Vec3& d2) {
  double s, t;
  nearest_on_segments(c1, d1, c2, d2, s, t);
  return between(c1 + s * d1, c2 + t * d2);
}

namespace {

// Apart: either a corner of the second is nearest to a face of the first, or an edge of the first to the second.
Separation boxes_apart(const Vec3& half_a, const Vec3& half_b, const Pose& X_AB) {
  const Pose X_BA = inverse(X_AB);
  const auto& [R, p] = X_BA;  // edges of the first, seen from the second
  const Vec3 edges[3] = {half_a.x * R.x, half_a.y * R.y, half_a.z * R.z};
  const Vector3<Lanes> half_in_b = spread<Lanes>(half_b);
  Lanes least(std::numeric_limits<double>::infinity());
  Vector3<Lanes> at{}, out{};
  for (int i = 0; i < 3; ++i) {
    const Vec3 u = edges[(i + 1) % 3], v = edges[(i + 2) % 3];
    Vector3<Lanes> c;
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec3 corner = p + (k % 2 == 0 ? 1.0 : -1.0) * u + (k < 2 ? 1.0 : -1.0) * v;
      c.x.set(k, corner.x), c.y.set(k, corner.y), c.z.set(k, corner.z);
    }
    const Vector3<Lanes> d = spread<Lanes>(edges[i]);
    const Vector3<Lanes> q = c + nearest_to_box(c, d, half_in_b) * d;
    const Vector3<Lanes> away = excess(q, half_in_b);
    const Lanes square = dot(away, away);
    const Mask closer = square < least;
    least = select(closer, square, least);
    at = {select(closer, q.x, at.x), select(closer, q.y, at.y), select(closer, q.z, at.z)};
    out = {select(closer, away.x, out.x), select(closer, away.y, out.y), select(closer, away.z, out.z)};
  }
  std::size_t k = 0;
  for (std::size_t i = 1; i < 4; ++i)
    if (least[i] < least[k]) k = i;
  const Vec3 nearest{at.x[k], at.y[k], at.z[k]}, away{out.x[k], out.y[k], out.z[k]};
  double best = least[k];
  Separation found{0, X_AB * nearest, X_AB * (nearest - away)};
  for (int i = 0; i < 8; ++i) {
    const Vec3 corner = X_AB * Vec3{i & 1 ? half_b.x : -half_b.x, i & 2 ? half_b.y : -half_b.y, i & 4 ? half_b.z : -half_b.z};
    const Vec3 off = excess(corner, half_a);
    if (dot(off, off) < best) best = dot(off, off), found = {0, corner - off, corner};
  }
  found.distance = std::sqrt(best);
  return found;
}

}  // namespace

Separation box_box(const Vec3& half_a, const Vec3& half_b, const Pose& X_AB) {
  const Rotation& R = X_AB.rotation;
  const Vec3& p = X_AB.position;
  static constexpr Vec3 axes[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  const Vec3 others[3] = {R.x, R.y, R.z};
  WayOut best;
  const auto offer = [&](const Vec3& n) { best.offer(n, half_width(half_a, n) + half_width(half_b, transpose_times(R, n)), -p); };
  for (const Vec3& n : axes) offer(n);
  for (const Vec3& n : others) offer(n);
  if (best.depth > 0) {
    for (const Vec3& u : axes) {
      for (const Vec3& v : others) {
        const Vec3 n = cross(u, v);
        const double length = norm(n);
        if (length > 1e-9) offer((1 / length) * n);  // nearer to parallel, the faces' own normals serve as well
      }
    }
  }
  if (best.depth <= 0) return boxes_apart(half_a, half_b, X_AB);
  const Vec3 move = best.depth * best.way;
  Separation touching = boxes_apart(half_a, half_b, {R, p - move});
  return {-best.depth, touching.a, touching.b + move - (touching.b - touching.a)};
}

Separation point_cylinder(const Vec3& p, const Vec3& half) {
  const double across = std::hypot(p.x, p.y);
  const Vec3 outward = across > 0 ? Vec3{p.x / across, p.y / across, 0} : Vec3{1, 0, 0};
  const double side = across - half.x, end = std::fabs(p.z) - half.z;
  if (side <= 0 && end <= 0) {
    if (side > end) return {side, p, {half.x * outward.x, half.x * outward.y, p.z}};
    return {end, p, {p.x, p.y, std::copysign(half.z, p.z)}};
  }
  Vec3 q = p;
  if (side > 0) q.x = half.x * outward.x, q.y = half.x * outward.y;
  if (end > 0) q.z = std::copysign(half.z, p.z);
  return {std::hypot(std::fmax(side, 0), std::fmax(end, 0)), p, q};
}

Separation segment_cylinder(const Vec3& centre, const Vec3& way, const Vec3& half, bool& overlap) {
  const auto at = [&](double t) { return point_cylinder(centre + t * way, half); };
  const auto slope = [&](const Separation& s) { return s.distance > 0 ? dot(s.a - s.b, way) : 0.0; };
  double low = -1, high = 1;
  Separation best = at(low);
  if (slope(best) < 0) {
    best = at(high);
    if (slope(best) > 0) {
      for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        best = at(middle);
        const double here = slope(best);
        if (here == 0) break;
        (here < 0 ? low : high) = middle;
      }
    }
  }
  overlap = best.distance <= 0;
  return best;
}

Separation parallel_cylinders(const Vec3& p, const Vec3& half_a, const Vec3& half_b) {
  const double across = std::hypot(p.x, p.y);
  const Vec3 n = across > 0 ? Vec3{p.x / across, p.y / across, 0} : Vec3{1, 0, 0};
  const double up = std::copysign(1, p.z);
  const double side = across - half_a.x - half_b.x, end = std::fabs(p.z) - half_a.z - half_b.z;
  const double middle = 0.5 * (std::fmax(across - half_a.x, -half_b.x) + std::fmin(across + half_a.x, half_b.x));
  const double height = 0.5 * (std::fmax(p.z - half_a.z, -half_b.z) + std::fmin(p.z + half_a.z, half_b.z));
  const Vec3 on_side{half_b.x * n.x, half_b.x * n.y, height}, on_end{middle * n.x, middle * n.y, up * half_b.z};
  if (side <= 0 && end <= 0) {
    if (side > end) return {side, on_side + side * n, on_side};
    return {end, on_end + Vec3{0, 0, up * end}, on_end};
  }
  const Vec3 b{side > 0 ? on_side.x : on_end.x, side > 0 ? on_side.y : on_end.y, end > 0 ? on_end.z : on_side.z};
  const double out = std::fmax(side, 0), over = std::fmax(end, 0);
  return {std::hypot(out, over), b + out * n + Vec3{0, 0, up * over}, b};
}

}  // namespace armwright
