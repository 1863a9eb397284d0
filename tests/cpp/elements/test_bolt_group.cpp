#include "armwright/elements/bolt_group.hpp"

#include <cmath>
#include <numbers>
#include <vector>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

using Tensions = std::vector<double>;

const std::vector<Point2> square{{-0.2, -0.2}, {0.2, -0.2}, {0.2, 0.2}, {-0.2, 0.2}};
const std::vector<Point2> plate{{-0.25, -0.25}, {0.25, -0.25}, {0.25, 0.25}, {-0.25, 0.25}};

std::vector<Point2> ring(int count, double radius, double first) {
  std::vector<Point2> points;
  for (int i = 0; i < count; ++i) {
    const double a = first + 2 * std::numbers::pi * i / count;
    points.push_back({radius * std::cos(a), radius * std::sin(a)});
  }
  return points;
}

Tensions elastic(const BoltGroup& group, const FaceLoad& load) {
  Tensions t(group.points.size());
  elastic_tensions(group, load, t);
  return t;
}

Tensions pivot(const BoltGroup& group, const FaceLoad& load) {
  Tensions t(group.points.size());
  pivot_tensions(group, load, t);
  return t;
}

Tensions far(const BoltGroup& group, const FaceLoad& load) {
  Tensions t(group.points.size());
  far_tensions(group, load, t);
  return t;
}

double greatest(const Tensions& t) { return *std::max_element(t.begin(), t.end()); }

// Bolts and a force anywhere within the plate balance the load.
void check_balance(const BoltGroup& group, const FaceLoad& load, const Tensions& t) {
  FaceLoad left{0, 0, load.fz, load.mx, load.my, 0};
  for (std::size_t i = 0; i < t.size(); ++i) {
    CHECK(t[i] >= 0);
    left.fz -= t[i], left.mx -= t[i] * group.points[i].y, left.my += t[i] * group.points[i].x;
  }
  CHECK(left.fz <= 1e-6);
  for (const Edge& edge : group.edges) CHECK(tipping_moment(edge, left) <= 1e-6);
}

}  // namespace

TEST_CASE("elastic group: T = M y / sum y² - W/N") {  // worked by hand
  const FaceLoad load{0, 0, -4000, 5000, 0, 0};
  CHECK(greatest(elastic(bolt_group(ring(8, 0.3, 0), {}), load)) == Approx(3666.667).epsilon(1e-7));
  CHECK(greatest(elastic(bolt_group(ring(8, 0.3, std::numbers::pi / 8), {}), load)) == Approx(3349.498).epsilon(1e-7));
  CHECK(greatest(elastic(bolt_group(square, {}), load)) == Approx(5250));
  CHECK(elastic(bolt_group(square, {}), load)[0] == Approx(-7250));  // pressed on
}

TEST_CASE("a skew pattern balances force and both moments, off its centroid too") {
  const std::vector<Point2> points{{0.1, 0.05}, {0.4, 0.02}, {0.45, 0.3}, {0.2, 0.5}, {0.3, 0.25}};
  const FaceLoad load{0, 0, 1200, -340, 275, 0};
  const Tensions t = elastic(bolt_group(points, {}), load);
  double fz = 0, mx = 0, my = 0;
  for (std::size_t i = 0; i < t.size(); ++i) fz += t[i], mx += t[i] * points[i].y, my -= t[i] * points[i].x;
  CHECK(fz == Approx(1200));
  CHECK(mx == Approx(-340));
  CHECK(my == Approx(275));
}

TEST_CASE("pivot about the plate's edge") {
  const FaceLoad load{0, 0, -4000, 5000, 0, 0};
  const BoltGroup group = bolt_group(square, plate);
  // moment about the edge 5000 - 4000 · 0.25; d = 0.05 and 0.45
  const Tensions t = pivot(group, load);
  CHECK(t[2] == Approx(4000 * 0.45 / (2 * (0.05 * 0.05 + 0.45 * 0.45))));
  CHECK(t[0] == Approx(4000 * 0.05 / (2 * (0.05 * 0.05 + 0.45 * 0.45))));
  check_balance(group, load, t);
  CHECK(far(group, load)[2] == Approx(4444.444).margin(5e-4));
  CHECK(far(group, load)[0] == 0);
  CHECK(greatest(pivot(group, {0, 0, -4000, 900, 0, 0})) == 0);  // does not lift
  CHECK(std::isnan(pivot(bolt_group(square, {}), load)[0]));     // no plate, no edge
}

TEST_CASE("a moment across the corner turns the plate about the corner") {
  // By symmetry w = b (d1 + d2) of two edges; each edge's moment M1 = b (sum d1² + sum d1 d2)
  const double m = 5000 / std::numbers::sqrt2;
  const BoltGroup group = bolt_group(square, plate);
  const FaceLoad load{0, 0, 0, m, -m, 0};  // lifts the bolt at (0.2, 0.2)
  const Tensions t = pivot(group, load);
  const double b = m / (2 * (0.05 * 0.05 + 0.45 * 0.45) + 0.05 * 0.05 + 2 * 0.05 * 0.45 + 0.45 * 0.45);
  CHECK(t[2] == Approx(b * 0.9));
  CHECK(t[0] == Approx(b * 0.1));
  CHECK(t[1] == Approx(b * 0.5));
  check_balance(group, load, t);
}

TEST_CASE("pivot balances any load, and a pull on the middle is shared") {
  const std::vector<Point2> points{{-0.15, -0.1}, {0.2, -0.12}, {0.22, 0.15}, {-0.05, 0.2}, {-0.2, 0.1}};
  const BoltGroup group = bolt_group(points, ring(24, 0.32, 0.1));
  for (int k = 0; k < 60; ++k) {
    const double a = 0.7 * k;
    const FaceLoad load{0, 0, 300.0 * (k % 11 - 7), 900 * std::cos(a), 700 * std::sin(1.3 * a), 0};
    check_balance(group, load, pivot(group, load));
  }
  const Tensions t = pivot(bolt_group(square, plate), {0, 0, 800, 0, 0, 0});
  for (double each : t) CHECK(each == Approx(200));
}

TEST_CASE("two bolts bear a moment across their line, not about it") {
  const std::vector<Point2> pair{{-0.3, 0}, {0.3, 0}};
  const BoltGroup group = bolt_group(pair, plate);
  CHECK(in_line(group));
  CHECK(elastic(group, {0, 0, 0, 0, -600, 0})[1] == Approx(1000));
  CHECK(std::isnan(elastic(group, {0, 0, 0, 10, 0, 0})[0]));
  CHECK(pivot(group, {0, 0, 0, 100, 0, 0})[0] == Approx(200));  // d = 0.25 both
  CHECK(std::isnan(elastic(bolt_group(std::vector<Point2>{{0.1, 0}}, {}), {0, 0, 0, 1, 0, 0})[0]));
  CHECK(elastic(bolt_group(std::vector<Point2>{{0.1, 0}}, {}), {0, 0, 10, 0, -1, 0})[0] == Approx(10));
}

TEST_CASE("shear of an eccentric load: the direct share and M r / sum r²") {
  // Shigley's bracket (form from memory): six bolts in two rows of three, by hand.
  const std::vector<Point2> points{{-0.05, -0.06}, {0.05, -0.06}, {-0.05, 0}, {0.05, 0}, {-0.05, 0.06}, {0.05, 0.06}};
  const double square_sum = 6 * 0.05 * 0.05 + 4 * 0.06 * 0.06;
  std::vector<double> s(12);
  bolt_shears(bolt_group(points, {}), {0, -6000, 0, 0, 0, -6000 * 0.2}, s);
  CHECK(s[2 * 5] == Approx(1200 * 0.06 / square_sum));
  CHECK(s[2 * 5 + 1] == Approx(-1000 - 1200 * 0.05 / square_sum));
  double fx = 0, fy = 0, mz = 0;
  for (int i = 0; i < 6; ++i) fx += s[2 * i], fy += s[2 * i + 1], mz += points[i].x * s[2 * i + 1] - points[i].y * s[2 * i];
  CHECK(fx == Approx(0).margin(1e-9));
  CHECK(fy == Approx(-6000));
  CHECK(mz == Approx(-1200));
}
