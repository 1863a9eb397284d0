#include "armwright/elements/polygon.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

PlaneMoments polygon_moments(std::span<const Point2> polygon) {
  PlaneMoments m;
  const std::size_t n = polygon.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Point2 p = polygon[i], q = polygon[(i + 1) % n];
    const double cross = p.x * q.y - q.x * p.y;
    m.area += cross / 2;
    m.x += cross * (p.x + q.x) / 6;
    m.y += cross * (p.y + q.y) / 6;
    m.xx += cross * (p.x * p.x + p.x * q.x + q.x * q.x) / 12;
    m.yy += cross * (p.y * p.y + p.y * q.y + q.y * q.y) / 12;
    m.xy += cross * (2 * p.x * p.y + p.x * q.y + q.x * p.y + 2 * q.x * q.y) / 24;
  }
  if (m.area < 0) m = {-m.area, -m.x, -m.y, -m.xx, -m.xy, -m.yy};
  return m;
}

void clip_polygon(std::span<const Point2> polygon, double a, double b, double c, std::vector<Point2>& part) {
  part.clear();
  const std::size_t n = polygon.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Point2 p = polygon[i], q = polygon[(i + 1) % n];
    const double at_p = a + b * p.x + c * p.y, at_q = a + b * q.x + c * q.y;
    if (at_p >= 0) part.push_back(p);
    if ((at_p >= 0) == (at_q >= 0)) continue;
    const double t = at_p / (at_p - at_q);
    part.push_back({p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)});
  }
}

std::vector<Point2> convex_hull(std::span<const Point2> points) {
  std::vector<Point2> sorted(points.begin(), points.end());
  std::sort(sorted.begin(), sorted.end(), [](Point2 p, Point2 q) { return p.x < q.x || (p.x == q.x && p.y < q.y); });
  double size = 0;
  for (const Point2& p : sorted) size = std::max(size, std::hypot(p.x - sorted[0].x, p.y - sorted[0].y));
  std::vector<Point2> hull;
  // The lower chain, then the upper one back (Andrew's monotone chain).
  const auto chain = [&](auto begin, auto end) {
    const std::size_t start = hull.size();
    for (auto p = begin; p != end; ++p) {
      while (hull.size() >= start + 2) {
        const Point2 o = hull[hull.size() - 2], m = hull.back();
        if ((m.x - o.x) * (p->y - o.y) - (m.y - o.y) * (p->x - o.x) > 1e-12 * size * size) break;
        hull.pop_back();
      }
      hull.push_back(*p);
    }
    hull.pop_back();
  };
  if (!(size > 0)) return {sorted.begin(), sorted.begin() + std::min<std::ptrdiff_t>(1, std::ssize(sorted))};
  chain(sorted.begin(), sorted.end());
  chain(sorted.rbegin(), sorted.rend());
  return hull;
}

std::vector<Edge> edges_of(std::span<const Point2> hull) {
  std::vector<Edge> edges;
  for (std::size_t i = 0; hull.size() >= 3 && i < hull.size(); ++i) {
    const Point2 p = hull[i], q = hull[(i + 1) % hull.size()];
    const double length = std::hypot(q.x - p.x, q.y - p.y);
    if (!(length > 0)) continue;
    const double nx = (q.y - p.y) / length, ny = (p.x - q.x) / length;
    edges.push_back({p, q, nx, ny, nx * p.x + ny * p.y});
  }
  return edges;
}

}  // namespace armwright
