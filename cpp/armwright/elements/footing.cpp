#include "armwright/elements/footing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <Eigen/Dense>

namespace armwright {

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr int most_rounds = 200;

Eigen::Matrix3d matrix(const PlaneMoments& m) {
  Eigen::Matrix3d h;
  h << m.area, m.x, m.y, m.x, m.xx, m.xy, m.y, m.xy, m.yy;
  return h;
}

// Where a guess stands: phi, its slope, and Newton's step with what it promises.
struct Guess {
  Eigen::Vector3d u, step;
  double phi, promise;
};

template <class Pressing>
Guess guess_at(const Pressing& pressing, const Eigen::Vector3d& u) {
  Eigen::Matrix3d h = matrix(pressing(u));
  const Eigen::Vector3d moved = h * u, slope = moved - Eigen::Vector3d::UnitX();
  const double phi = 0.5 * u.dot(moved) - u[0];
  h.diagonal() *= 1 + 1e-14;  // two feet leave one turn free
  const Eigen::Vector3d step = -h.ldlt().solve(slope);
  return {u, step, phi, step.allFinite() ? -slope.dot(step) : std::numeric_limits<double>::infinity()};
}

// Least of phi(u) = 1/2 integral of (u.h)+² - u.g, h = (1, x, y), about the point where the resultant of 1 strikes, g = (1, 0, 0):
// there the part that presses balances the load. `pressing(u)` gives the moments of the part where u.h >= 0. The step to the
// solution on the present part is Newton's; it is shortened until phi falls.
template <class Pressing>
bool settle(const Pressing& pressing, Eigen::Vector3d& u) {
  Guess now = guess_at(pressing, u);
  for (int round = 0; round < most_rounds && now.promise > 1e-22 * std::fabs(now.phi); ++round) {
    double share = 1;
    Guess next = guess_at(pressing, now.u + now.step);
    while (next.phi > now.phi - 1e-4 * share * now.promise && next.promise > 0.25 * now.promise && share > 1e-9) {
      share /= 2;
      next = guess_at(pressing, now.u + share * now.step);
    }
    if (share <= 1e-9) break;  // no better by rounding
    now = next;
  }
  u = now.u;
  return now.promise <= 1e-14 * std::fabs(now.phi);
}

// The frame in which the solving is done: about the point where the resultant strikes, in lengths of a size.
struct Scale {
  double x, y, size;
  Point2 to(Point2 p) const { return {(p.x - x) / size, (p.y - y) / size}; }
};

Scale struck(const FaceLoad& load, double size) { return {-load.my / load.fz, load.mx / load.fz, size}; }

bool rests_on(std::span<const Point2> points, const FaceLoad& load) {
  const std::vector<Edge> edges = edges_of(convex_hull(points));
  return !edges.empty() && load.fz < 0 && std::all_of(edges.begin(), edges.end(), [&](const Edge& e) { return tipping_moment(e, load) < 0; });
}

Footing told(const Eigen::Vector3d& u, const Scale& scale, double unit) {
  Footing f;
  f.b = u[1] * unit / scale.size, f.c = u[2] * unit / scale.size;
  f.a = u[0] * unit - f.b * scale.x - f.c * scale.y;
  f.rests = true;
  return f;
}

}  // namespace

Footing footing(std::span<const Point2> outline, const FaceLoad& load) {
  Footing result;
  result.greatest = none;
  const PlaneMoments whole = polygon_moments(outline);
  if (!(whole.area > 0) || !rests_on(outline, load)) return result;
  const Scale scale = struck(load, std::sqrt(whole.area));
  std::vector<Point2> points(outline.size()), part;
  std::transform(outline.begin(), outline.end(), points.begin(), [&](const Point2& p) { return scale.to(p); });
  const auto pressing = [&](const Eigen::Vector3d& u) {
    clip_polygon(points, u[0], u[1], u[2], part);
    return polygon_moments(part);
  };
  Eigen::Vector3d u = matrix(polygon_moments(points)).ldlt().solve(Eigen::Vector3d::UnitX());
  if (!settle(pressing, u)) return result;
  result = told(u, scale, -load.fz / whole.area);
  for (const Point2& p : outline) result.greatest = std::max(result.greatest, result.a + result.b * p.x + result.c * p.y);
  result.contact = pressing(u).area;
  return result;
}

Footing on_feet(std::span<const Point2> feet, const FaceLoad& load, std::span<double> forces) {
  Footing result;
  result.greatest = none;
  std::fill(forces.begin(), forces.end(), none);
  if (!rests_on(feet, load)) return result;
  const double n = static_cast<double>(feet.size());
  double size = 0;
  for (const Point2& p : feet) size = std::max(size, std::hypot(p.x - feet[0].x, p.y - feet[0].y));
  const Scale scale = struck(load, size);
  const auto pressing = [&](const Eigen::Vector3d& u) {
    PlaneMoments m;
    for (const Point2& foot : feet) {
      const Point2 p = scale.to(foot);
      if (!(u[0] + u[1] * p.x + u[2] * p.y >= 0)) continue;
      m.area += 1, m.x += p.x, m.y += p.y, m.xx += p.x * p.x, m.xy += p.x * p.y, m.yy += p.y * p.y;
    }
    return m;
  };
  Eigen::Vector3d u = matrix(pressing(Eigen::Vector3d::UnitX())).ldlt().solve(Eigen::Vector3d::UnitX());
  if (!settle(pressing, u)) return result;
  result = told(u, scale, -load.fz);
  for (std::size_t i = 0; i < feet.size(); ++i) {
    forces[i] = std::max(0.0, result.a + result.b * feet[i].x + result.c * feet[i].y);
    result.greatest = std::max(result.greatest, forces[i]);
    if (forces[i] > 0) result.contact += 1 / n;
  }
  return result;
}

}  // namespace armwright
