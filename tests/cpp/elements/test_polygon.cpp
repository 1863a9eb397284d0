#include "armwright/elements/polygon.hpp"

#include <cmath>
#include <numbers>
#include <vector>

#include "catch_shim.hpp"

using namespace armwright;

TEST_CASE("moments of a rectangle and a triangle, by the handbook's b h³/12 and b h³/36") {
  const std::vector<Point2> rectangle{{1, 2}, {4, 2}, {4, 4}, {1, 4}};
  const PlaneMoments m = polygon_moments(rectangle);
  CHECK(m.area == Approx(6));
  CHECK(m.x == Approx(6 * 2.5));
  CHECK(m.y == Approx(6 * 3));
  CHECK(m.xx == Approx(2 * 27.0 / 12 + 6 * 2.5 * 2.5));
  CHECK(m.yy == Approx(3 * 8.0 / 12 + 6 * 9));
  CHECK(m.xy == Approx(6 * 2.5 * 3));
  const std::vector<Point2> clockwise{{0, 0}, {0, 3}, {2, 0}};
  const PlaneMoments t = polygon_moments(clockwise);
  CHECK(t.area == Approx(3));
  CHECK(t.yy - t.y * t.y / t.area == Approx(2 * 27.0 / 36));
  CHECK(t.xy - t.x * t.y / t.area == Approx(-4.0 * 9 / 72));  // b² h²/72, right angle at the origin
}

TEST_CASE("a part clipped off an L is the L without it") {
  const std::vector<Point2> ell{{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}};
  std::vector<Point2> part;
  clip_polygon(ell, 3, -1, -1, part);  // x + y <= 3
  const PlaneMoments kept = polygon_moments(part);
  clip_polygon(ell, -3, 1, 1, part);
  const PlaneMoments cut = polygon_moments(part), whole = polygon_moments(ell);
  CHECK(cut.area == Approx(1));  // two half squares of 1 m², at both ends
  CHECK(kept.area == Approx(4));
  CHECK(kept.xx + cut.xx == Approx(whole.xx));
  CHECK(kept.xy + cut.xy == Approx(whole.xy));
}

TEST_CASE("hull, its edges and the moment about them") {
  const std::vector<Point2> points{{0, 0}, {1, 0}, {2, 0}, {2, 1}, {0.5, 0.5}, {0, 1}, {0, 0}};
  const std::vector<Point2> hull = convex_hull(points);
  REQUIRE(hull.size() == 4);
  CHECK(polygon_moments(hull).area == Approx(2));
  CHECK(convex_hull(std::vector<Point2>{{1, 1}, {1, 1}}).size() == 1);
  CHECK(edges_of(convex_hull(std::vector<Point2>{{0, 0}, {1, 1}, {2, 2}})).empty());
  // 10 N down at (0.5, 0.25): rests with its distance to each edge
  const FaceLoad load{0, 0, -10, 0.25 * -10, -0.5 * -10, 0};
  for (const Edge& edge : edges_of(hull)) {
    CHECK(std::hypot(edge.nx, edge.ny) == Approx(1));
    CHECK(inside(edge, {1, 0.5}) > 0);
    CHECK(tipping_moment(edge, load) == Approx(-10 * inside(edge, {0.5, 0.25})));
  }
}
