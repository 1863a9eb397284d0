#pragma once

#include <span>
#include <vector>

namespace armwright {

/// A point of a plane, m.
struct Point2 {
  double x, y;
};

/// What a load on a flat face comes to: force (N) and moment (N m) about the origin of a frame whose z stands out of the face, away
/// from what bears it. fz > 0 pulls the face off, fz < 0 presses it on.
struct FaceLoad {
  double fx, fy, fz, mx, my, mz;
};

/// Integrals over a plane region of 1, x, y, x², x y, y².
struct PlaneMoments {
  double area = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
};

/// Of a simple polygon, whichever way round it is told (Green's theorem).
PlaneMoments polygon_moments(std::span<const Point2> polygon);

/// The part of a polygon in which a + b x + c y >= 0. Of a polygon that is not convex the parts hang together by edges that lie upon
/// each other and add nothing to integrals. `part` is written anew.
void clip_polygon(std::span<const Point2> polygon, double a, double b, double c, std::vector<Point2>& part);

/// Convex hull, counter-clockwise, without points that lie on an edge (by 1e-12 of the size) and without repeats.
std::vector<Point2> convex_hull(std::span<const Point2> points);

/// An edge of a convex polygon about which what rests on it can tip. `nx`, `ny`: outward normal of length 1; `reach`: distance of the
/// edge's line from the origin along it, so that a point at (x, y) lies reach - nx x - ny y inside.
struct Edge {
  Point2 from, to;
  double nx, ny, reach;
};

/// The edges of a hull, as `convex_hull` gives it; none for fewer than three points.
std::vector<Edge> edges_of(std::span<const Point2> hull);

/// How far inside the edge a point lies, m.
inline double inside(const Edge& edge, Point2 p) { return edge.reach - edge.nx * p.x - edge.ny * p.y; }

/// Moment of a load about an edge, N m; positive: it tips over that edge, negative: it rests.
inline double tipping_moment(const Edge& edge, const FaceLoad& load) { return load.fz * edge.reach + edge.nx * load.my - edge.ny * load.mx; }

}  // namespace armwright
