#pragma once

#include "armwright/clearance/segments.hpp"

namespace armwright {

/// Weights of a point of a triangle, or of a segment (w.z = 0): the point is w.x a + w.y b + w.z c.
inline Vec3 weighted(const Vec3& w, const Vec3& a, const Vec3& b, const Vec3& c) { return w.x * a + w.y * b + w.z * c; }

/// Weights of the point of segment a b nearest to the origin.
inline Vec3 nearest_on_edge(const Vec3& a, const Vec3& b) {
  const Vec3 ab = b - a;
  const double length2 = dot(ab, ab);
  const double t = length2 > 0 ? clamped(-dot(a, ab) / length2, 0.0, 1.0) : 0.0;
  return {1 - t, t, 0};
}

/// Weights of the point of triangle a b c nearest to the origin. Safe for triangles without area: the inside counts
/// only where its own weights say so, and the edges are always compared.
inline Vec3 nearest_on_triangle(const Vec3& a, const Vec3& b, const Vec3& c) {
  const Vec3 ab = b - a, ac = c - a, n = cross(ab, ac);
  const double n2 = dot(n, n);
  if (n2 > 0) {
    // Barycentric coordinates of the origin's foot on the plane, from the areas seen along the normal.
    const double u = dot(cross(b, c), n) / n2, v = dot(cross(c, a), n) / n2, w = dot(cross(a, b), n) / n2;
    if (u >= 0 && v >= 0 && w >= 0) return {u / (u + v + w), v / (u + v + w), w / (u + v + w)};
  }
  const Vec3 e = nearest_on_edge(a, b), f = nearest_on_edge(b, c), g = nearest_on_edge(c, a);
  const Vec3 on[3] = {{e.x, e.y, 0}, {0, f.x, f.y}, {g.y, 0, g.x}};
  int best = 0;
  double least = 0;
  for (int i = 0; i < 3; ++i) {
    const Vec3 p = weighted(on[i], a, b, c);
    const double here = dot(p, p);
    if (i == 0 || here < least) least = here, best = i;
  }
  return on[best];
}

struct Nearest {
  double square;  ///< distance squared, m²
  Vec3 a, b;
};

inline Nearest nearer(const Nearest& x, const Nearest& y) { return y.square < x.square ? y : x; }

inline Nearest point_triangle(const Vec3& p, const Vec3& a, const Vec3& b, const Vec3& c) {
  const Vec3 q = weighted(nearest_on_triangle(a - p, b - p, c - p), a, b, c);
  return {dot(p - q, p - q), p, q};
}

inline Nearest edge_edge(const Vec3& p, const Vec3& q, const Vec3& r, const Vec3& s) {
  const Vec3 c1 = 0.5 * (p + q), d1 = 0.5 * (q - p), c2 = 0.5 * (r + s), d2 = 0.5 * (s - r);
  double u, v;
  nearest_on_segments(c1, d1, c2, d2, u, v);
  const Vec3 x = c1 + u * d1, y = c2 + v * d2;
  return {dot(x - y, x - y), x, y};
}

/// Whether the segment p q passes through triangle a b c; `where` is then the crossing.
inline bool crosses(const Vec3& p, const Vec3& q, const Vec3& a, const Vec3& b, const Vec3& c, Vec3& where) {
  const Vec3 n = cross(b - a, c - a);
  const double from = dot(p - a, n), to = dot(q - a, n);
  if ((from > 0 && to > 0) || (from < 0 && to < 0) || from == to) return false;
  const Vec3 x = p + (from / (from - to)) * (q - p);
  if (dot(cross(b - a, x - a), n) < 0 || dot(cross(c - b, x - b), n) < 0 || dot(cross(a - c, x - c), n) < 0) return false;
  where = x;
  return true;
}

inline Nearest segment_triangle(const Vec3& p, const Vec3& q, const Vec3& a, const Vec3& b, const Vec3& c) {
  Vec3 x;
  if (crosses(p, q, a, b, c, x)) return {0, x, x};
  Nearest best = nearer(point_triangle(p, a, b, c), point_triangle(q, a, b, c));
  best = nearer(best, edge_edge(p, q, a, b));
  best = nearer(best, edge_edge(p, q, b, c));
  return nearer(best, edge_edge(p, q, c, a));
}

inline Nearest triangle_triangle(const Vec3* s, const Vec3* t) {
  Nearest best = segment_triangle(s[0], s[1], t[0], t[1], t[2]);
  best = nearer(best, segment_triangle(s[1], s[2], t[0], t[1], t[2]));
  best = nearer(best, segment_triangle(s[2], s[0], t[0], t[1], t[2]));
  for (int i = 0; i < 3 && best.square > 0; ++i) {
    const Nearest from = point_triangle(t[i], s[0], s[1], s[2]);
    best = nearer(best, {from.square, from.b, from.a});
    Vec3 x;
    if (crosses(t[i], t[(i + 1) % 3], s[0], s[1], s[2], x)) best = {0, x, x};
  }
  return best;
}

}  // namespace armwright
