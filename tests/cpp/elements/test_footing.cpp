#include "armwright/elements/footing.hpp"

#include <cmath>
#include <numbers>
#include <vector>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

FaceLoad pressed_at(double force, double x, double y) { return {0, 0, -force, -force * y, force * x, 0}; }

const double b = 0.6, h = 0.4;
const std::vector<Point2> rectangle{{-b / 2, -h / 2}, {b / 2, -h / 2}, {b / 2, h / 2}, {-b / 2, h / 2}};

// Segment of a circle of radius 1 beyond x = cos t: area and first and second moments about the circle's middle.
double area(double t) { return t - std::sin(t) * std::cos(t); }
double first(double t) { return 2.0 / 3 * std::pow(std::sin(t), 3); }
double second(double t) { return t / 4 - std::sin(4 * t) / 16; }

}  // namespace

TEST_CASE("rectangle: N/A (1 + 6 e/b) within the kern, 2 N / (3 h (b/2 - e)) beyond") {  // soil mechanics' textbook forms
  CHECK(footing(rectangle, pressed_at(1000, 0.05, 0)).greatest == Approx(1000 / (b * h) * (1 + 6 * 0.05 / b)));
  CHECK(footing(rectangle, pressed_at(1000, 0.05, 0)).contact == Approx(1));
  CHECK(footing(rectangle, pressed_at(1000, b / 6, 0)).greatest == Approx(2000 / (b * h)));
  for (double e : {0.11, 0.2, 0.28, 0.2999}) {
    const Footing f = footing(rectangle, pressed_at(1000, e, 0));
    CHECK(f.greatest == Approx(2 * 1000 / (3 * h * (b / 2 - e))).epsilon(1e-9));
    CHECK(f.contact == Approx(3 * (b / 2 - e) / b).epsilon(1e-9));
  }
  CHECK(footing(rectangle, pressed_at(1000, 0.1, 0.02)).greatest == Approx(1000 / (b * h) * (1 + 6 * 0.1 / b + 6 * 0.02 / h)).epsilon(0.05));
}

TEST_CASE("circle: beyond a quarter of the radius only a segment presses") {  // closed form by integrating over the segment
  std::vector<Point2> circle;
  for (int i = 0; i < 4000; ++i) circle.push_back({std::cos(std::numbers::pi * i / 2000), std::sin(std::numbers::pi * i / 2000)});
  CHECK(footing(circle, pressed_at(1, 0.25, 0)).greatest == Approx(2 / std::numbers::pi).epsilon(1e-5));
  for (double t : {2.8, 2.2, std::numbers::pi / 2, 1.0, 0.4}) {
    const double n = first(t) - std::cos(t) * area(t), m = second(t) - std::cos(t) * first(t);  // of p = x - cos t
    const Footing f = footing(circle, pressed_at(1, m / n, 0));
    CHECK(f.greatest == Approx((1 - std::cos(t)) / n).epsilon(1e-4));
    CHECK(f.contact == Approx(area(t) / std::numbers::pi).epsilon(1e-4));
  }
}

TEST_CASE("any outline: what presses balances the load") {
  const std::vector<Point2> ell{{0, 0}, {0.5, 0}, {0.5, 0.2}, {0.2, 0.2}, {0.2, 0.6}, {0, 0.6}};
  for (const Point2& at : {Point2{0.1, 0.1}, Point2{0.3, 0.25}, Point2{0.05, 0.55}, Point2{0.495, 0.195}}) {
    const Footing f = footing(ell, pressed_at(750, at.x, at.y));
    REQUIRE(f.rests);
    std::vector<Point2> part;
    clip_polygon(ell, f.a, f.b, f.c, part);
    const PlaneMoments m = polygon_moments(part);
    CHECK(f.a * m.area + f.b * m.x + f.c * m.y == Approx(750).epsilon(1e-9));
    CHECK(f.a * m.x + f.b * m.xx + f.c * m.xy == Approx(750 * at.x).epsilon(1e-9));
    CHECK(f.a * m.y + f.b * m.xy + f.c * m.yy == Approx(750 * at.y).epsilon(1e-9));
  }
  CHECK_FALSE(footing(ell, pressed_at(750, 0.45, 0.5)).rests);
  CHECK(std::isnan(footing(ell, pressed_at(750, 0.45, 0.5)).greatest));
  CHECK_FALSE(footing(ell, pressed_at(-750, 0.1, 0.1)).rests);
}

TEST_CASE("a corner that presses alone: the pyramid's pressure") {
  // Resultant near a corner: contact is a triangle with legs 4 u and 4 v, greatest pressure 6 N / (legs): pyramid's centroid
  const Footing f = footing(rectangle, pressed_at(100, b / 2 - 0.03, h / 2 - 0.02));
  CHECK(f.greatest == Approx(100 * 6 / (0.12 * 0.08)).epsilon(1e-9));
  CHECK(f.contact == Approx(0.12 * 0.08 / 2 / (b * h)).epsilon(1e-9));
}

TEST_CASE("feet: three by levers, four by the plane, a lifted one left out") {
  const std::vector<Point2> three{{0, 0}, {1, 0}, {0, 1}};
  std::vector<double> r(3);
  on_feet(three, pressed_at(100, 0.2, 0.3), r);
  CHECK(r[0] == Approx(50));
  CHECK(r[1] == Approx(20));
  CHECK(r[2] == Approx(30));
  const std::vector<Point2> four{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
  std::vector<double> s(4);
  on_feet(four, pressed_at(100, 0.2, 0.1), s);
  CHECK(s[2] == Approx(25 * 1.3));
  CHECK(s[0] == Approx(25 * 0.7));
  on_feet(four, pressed_at(100, 0.5, 0.4), s);  // beyond |x| + |y| = 1 the far... within: one still touches
  CHECK(s[0] == Approx(25 * 0.1));
  const Footing f = on_feet(four, pressed_at(100, 0.7, 0.5), s);  // three bear: by levers
  CHECK(s[0] == 0);
  CHECK(s[3] == Approx(100 * (1 - 0.7) / 2));
  CHECK(s[1] == Approx(100 * (1 - 0.5) / 2));
  CHECK(s[2] == Approx(100 - 15 - 25));
  CHECK(f.contact == Approx(0.75));
  CHECK_FALSE(on_feet(four, pressed_at(100, 1.01, 0), s).rests);
  CHECK(std::isnan(s[0]));
}
