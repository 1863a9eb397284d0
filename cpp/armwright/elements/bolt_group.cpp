#include "armwright/elements/bolt_group.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace armwright {

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr double rounding = 1e-9;  // share of the load below which a moment is nothing

// w = a + b x + c y: how far the plate stands off at a point; tension in proportion.
struct Plane {
  double a = 0, b = 0, c = 0;
  double at(Point2 p) const { return a + b * p.x + c * p.y; }
};

// Sums of 1, x, y and their products over the bolts, about the origin.
struct Sums {
  double n = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
};

double size_of(const BoltGroup& group) { return std::sqrt((group.xx + group.yy) / std::max<double>(1, group.points.size())); }

// Solves [xx xy; xy yy] (b, c) = (f, g); false where it is singular.
bool solve2(double xx, double xy, double yy, double f, double g, double& b, double& c) {
  const double determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-12 * (xx + yy) * (xx + yy))) return false;
  b = (f * yy - g * xy) / determinant;
  c = (g * xx - f * xy) / determinant;
  return true;
}

// sum t = fz, sum t x = -my, sum t y = mx.
struct Wanted {
  double n, x, y;
};

Wanted wanted(const FaceLoad& load) { return {load.fz, -load.my, load.mx}; }

// Bolts in one line, or in one place: what they bear is a moment across the line.
bool line_plane(const BoltGroup& group, double n, double fx, double fy, double& b, double& c) {
  const double square = group.xx + group.yy, size = std::sqrt(square);
  const double ux = size > 0 ? std::sqrt(group.xx) / size : 0, uy = size > 0 ? std::copysign(std::sqrt(group.yy), group.xy) / size : 0;
  const double borne = fx * ux + fy * uy, lever = std::max(size, std::hypot(group.x, group.y));
  if (std::hypot(fx - borne * ux, fy - borne * uy) > rounding * (std::fabs(borne) + std::fabs(n) * lever)) return false;
  b = size > 0 ? borne * ux / square : 0;
  c = size > 0 ? borne * uy / square : 0;
  return true;
}

bool elastic_plane(const BoltGroup& group, const Wanted& f, Plane& plane) {
  const double n = static_cast<double>(group.points.size()), fx = f.x - f.n * group.x, fy = f.y - f.n * group.y;
  double b = 0, c = 0;
  if (!solve2(group.xx, group.xy, group.yy, fx, fy, b, c) && !line_plane(group, f.n, fx, fy, b, c)) return false;
  plane = {f.n / n - b * group.x - c * group.y, b, c};
  return true;
}

bool clear_of_corners(const BoltGroup& group, const Plane& plane) {
  double least = 0, most = 0;
  for (const Point2& corner : group.hull) {
    least = std::min(least, plane.at(corner));
    most = std::max(most, plane.at(corner));
  }
  return least >= -rounding * most;
}

// Rests on one edge: both its ends must press.
bool edge_plane(const BoltGroup& group, const Edge& edge, const FaceLoad& load, Plane& plane) {
  const double moment = tipping_moment(edge, load);
  if (!(moment > 0)) return false;
  double square = 0;
  for (const Point2& p : group.points) square += inside(edge, p) * inside(edge, p);
  if (!(square > 0)) return false;
  const double s = moment / square;
  plane = {s * edge.reach, -s * edge.nx, -s * edge.ny};
  const double tx = -edge.ny, ty = edge.nx;  // along the edge, from -> to
  const Wanted f = wanted(load);
  double press = -f.n, first = -(f.x * tx + f.y * ty);
  for (const Point2& p : group.points) {
    const double t = plane.at(p);
    press += t;
    first += t * (p.x * tx + p.y * ty);
  }
  const double from = edge.from.x * tx + edge.from.y * ty, to = edge.to.x * tx + edge.to.y * ty;
  const double at_to = (first - press * from) / (to - from), at_from = press - at_to;
  return std::min(at_from, at_to) >= -rounding * std::fabs(s) * std::sqrt(square) * static_cast<double>(group.points.size());
}

// Rests on one corner.
bool corner_plane(const BoltGroup& group, Point2 v, const FaceLoad& load, Plane& plane) {
  const Wanted f = wanted(load);
  Sums sums;
  for (const Point2& p : group.points) {
    const double x = p.x - v.x, y = p.y - v.y;
    sums.x += x, sums.y += y, sums.xx += x * x, sums.xy += x * y, sums.yy += y * y;
  }
  double b = 0, c = 0;
  if (!solve2(sums.xx, sums.xy, sums.yy, f.x - f.n * v.x, f.y - f.n * v.y, b, c)) return false;
  plane = {-b * v.x - c * v.y, b, c};
  const double pull = b * sums.x + c * sums.y;
  return pull - f.n >= -rounding * std::fabs(pull) && clear_of_corners(group, plane);
}

bool pivot_plane(const BoltGroup& group, const FaceLoad& load, Plane& plane) {
  double most = 0;
  for (const Edge& edge : group.edges) most = std::max(most, tipping_moment(edge, load));
  plane = {};
  const double scale = std::fabs(load.fz) * size_of(group) + std::hypot(load.mx, load.my);
  if (most <= 1e-14 * scale) return true;  // stays down
  if (elastic_plane(group, wanted(load), plane) && clear_of_corners(group, plane)) return true;
  for (const Edge& edge : group.edges)
    if (edge_plane(group, edge, load, plane)) return true;
  for (const Point2& corner : group.hull)
    if (corner_plane(group, corner, load, plane)) return true;
  return false;
}

void fill(const BoltGroup& group, const Plane& plane, std::span<double> tensions) {
  std::transform(group.points.begin(), group.points.end(), tensions.begin(), [&](const Point2& p) { return plane.at(p); });
}

}  // namespace

BoltGroup bolt_group(std::span<const Point2> points, std::span<const Point2> plate) {
  BoltGroup group;
  group.points.assign(points.begin(), points.end());
  const double n = std::max<double>(1, points.size());
  for (const Point2& p : points) group.x += p.x / n, group.y += p.y / n;
  for (const Point2& p : points) {
    const double x = p.x - group.x, y = p.y - group.y;
    group.xx += x * x, group.xy += x * y, group.yy += y * y;
  }
  group.hull = convex_hull(plate);
  group.edges = edges_of(group.hull);
  return group;
}

bool in_line(const BoltGroup& group) {
  double b = 0, c = 0;
  return !solve2(group.xx, group.xy, group.yy, 0, 0, b, c);
}

void elastic_tensions(const BoltGroup& group, const FaceLoad& load, std::span<double> tensions) {
  Plane plane;
  if (elastic_plane(group, wanted(load), plane)) return fill(group, plane, tensions);
  std::fill(tensions.begin(), tensions.end(), none);
}

void pivot_tensions(const BoltGroup& group, const FaceLoad& load, std::span<double> tensions) {
  Plane plane;
  if (!group.edges.empty() && pivot_plane(group, load, plane)) {
    fill(group, plane, tensions);
    for (double& t : tensions) t = std::max(t, 0.0);  // a bolt on the edge itself, by rounding
    return;
  }
  std::fill(tensions.begin(), tensions.end(), none);
}

void far_tensions(const BoltGroup& group, const FaceLoad& load, std::span<double> tensions) {
  std::fill(tensions.begin(), tensions.end(), group.edges.empty() ? none : 0.0);
  for (const Edge& edge : group.edges) {
    const double moment = tipping_moment(edge, load);
    if (!(moment > 0)) continue;
    double far = 0;
    for (const Point2& p : group.points) far = std::max(far, inside(edge, p));
    if (!(far > 0)) return std::fill(tensions.begin(), tensions.end(), none);
    const auto is_far = [&](const Point2& p) { return inside(edge, p) >= far * (1 - 1e-6); };
    const double count = static_cast<double>(std::count_if(group.points.begin(), group.points.end(), is_far));
    for (std::size_t i = 0; i < group.points.size(); ++i)
      if (is_far(group.points[i])) tensions[i] = std::max(tensions[i], moment / (count * far));
  }
}

void bolt_shears(const BoltGroup& group, const FaceLoad& load, std::span<double> shears) {
  const double n = static_cast<double>(group.points.size()), polar = group.xx + group.yy;
  const double torsion = load.mz - group.x * load.fy + group.y * load.fx;
  const bool turns = std::fabs(torsion) > rounding * (std::fabs(load.mz) + std::hypot(group.x, group.y) * std::hypot(load.fx, load.fy));
  const double rate = polar > 0 ? torsion / polar : turns ? none : 0.0;
  for (std::size_t i = 0; i < group.points.size(); ++i) {
    shears[2 * i] = load.fx / n - rate * (group.points[i].y - group.y);
    shears[2 * i + 1] = load.fy / n + rate * (group.points[i].x - group.x);
  }
}

}  // namespace armwright
