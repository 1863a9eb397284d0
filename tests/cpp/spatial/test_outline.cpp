#include "armwright/spatial/outline.hpp"

#include <cmath>

#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

using Inside = std::function<bool(const Point2&)>;

std::vector<std::vector<Point2>> curves_of(const FlatGrid& grid, const Inside& inside) {
  std::vector<std::uint8_t> marked(grid.size());
  for (std::size_t i = 0; i < grid.size(); ++i) marked[i] = inside(grid.position(i));
  const auto points = outline_of(grid, marked, [&](std::size_t in, std::size_t out) {
    CHECK(marked[in]);
    CHECK_FALSE(marked[out]);
    Point2 good = grid.position(in), bad = grid.position(out);
    for (int k = 0; k < 30; ++k) {
      const Point2 middle{0.5 * (good[0] + bad[0]), 0.5 * (good[1] + bad[1])};
      (inside(middle) ? good : bad) = middle;
    }
    return good;
  });
  std::vector<std::vector<Point2>> curves;
  if (!points.empty()) curves.emplace_back();
  for (const Point2& p : points) {
    if (std::isnan(p[0])) curves.emplace_back();
    else curves.back().push_back(p);
  }
  return curves;
}

double area(const std::vector<Point2>& curve) {  // the shoelace formula
  double sum = 0;
  for (std::size_t i = 0; i + 1 < curve.size(); ++i) sum += curve[i][0] * curve[i + 1][1] - curve[i + 1][0] * curve[i][1];
  return 0.5 * std::fabs(sum);
}

bool closed(const std::vector<Point2>& curve) { return curve.size() > 3 && curve.front() == curve.back(); }

FlatGrid square(double half, double spacing, double shift = 0.013) {
  const auto count = static_cast<std::size_t>(2 * half / spacing) + 2;
  return {{-half + shift, -half}, spacing, {count, count}};
}

}  // namespace

TEST_CASE("a disc has one closed curve of its area, every point on the rim") {
  const auto curves = curves_of(square(1.3, 0.05), [](const Point2& p) { return std::hypot(p[0], p[1]) <= 1; });
  REQUIRE(curves.size() == 1);
  CHECK(closed(curves[0]));
  CHECK(area(curves[0]) == Approx(half_turn).epsilon(0.002));
  CHECK(area(curves[0]) < half_turn);  // chords lie within
  for (const Point2& p : curves[0]) CHECK(std::hypot(p[0], p[1]) == Approx(1).epsilon(1e-8));
}

TEST_CASE("an annulus has two closed curves whose areas differ by its own") {
  const auto curves = curves_of(square(1.3, 0.04), [](const Point2& p) {
    const double r = std::hypot(p[0], p[1]);
    return r >= 0.5 && r <= 1.1;
  });
  REQUIRE(curves.size() == 2);
  CHECK(closed(curves[0]));
  CHECK(closed(curves[1]));
  const double big = std::fmax(area(curves[0]), area(curves[1])), small = std::fmin(area(curves[0]), area(curves[1]));
  CHECK(big - small == Approx(half_turn * (1.1 * 1.1 - 0.5 * 0.5)).epsilon(0.003));
}

TEST_CASE("a region that runs off the grid has an open curve that ends on the grid's edge") {
  const FlatGrid grid = square(1, 0.1, 0);
  const auto curves = curves_of(grid, [](const Point2& p) { return p[1] <= 0.33; });
  REQUIRE(curves.size() == 1);
  CHECK_FALSE(closed(curves[0]));
  CHECK(curves[0].size() == grid.count[0]);
  for (const Point2& p : curves[0]) CHECK(p[1] == Approx(0.33).epsilon(1e-6));
  CHECK(std::fabs(curves[0].front()[0] - curves[0].back()[0]) == Approx(0.1 * static_cast<double>(grid.count[0] - 1)));
}

TEST_CASE("marked corners that meet in a saddle stay apart") {
  const FlatGrid grid{{0, 0}, 1, {4, 4}};
  const auto curves = curves_of(grid, [](const Point2& p) {
    return (p[0] > 0.6 && p[0] < 1.4 && p[1] > 0.6 && p[1] < 1.4) || (p[0] > 1.6 && p[0] < 2.4 && p[1] > 1.6 && p[1] < 2.4);
  });
  REQUIRE(curves.size() == 2);
  CHECK((closed(curves[0]) && closed(curves[1])));
  CHECK((curves[0].size() == 5 && curves[1].size() == 5));
}

TEST_CASE("nothing marked, or everything, has no curve") {
  CHECK(curves_of(square(1, 0.2), [](const Point2&) { return false; }).empty());
  CHECK(curves_of(square(1, 0.2), [](const Point2&) { return true; }).empty());
}
