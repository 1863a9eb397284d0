#include "catch_shim.hpp"

#include <algorithm>

#include "armwright/clearance/hull.hpp"
#include "solids.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

bool has(const std::vector<Vec3>& points, const Vec3& p) {
  return std::any_of(points.begin(), points.end(), [&](const Vec3& q) { return norm(p - q) == 0; });
}

double reach(const std::vector<Vec3>& points, const Vec3& way) {
  double most = -1e9;
  for (const Vec3& p : points) most = std::max(most, dot(p, way));
  return most;
}

}  // namespace

TEST_CASE("a box filled and covered with points keeps its eight corners") {
  Dice dice(31);
  std::vector<Vec3> points = box_corners({2, 1, 0.5});
  for (double x = -1; x <= 1; x += 0.25)
    for (double y = -0.5; y <= 0.5; y += 0.25)
      for (double z = -0.25; z <= 0.25; z += 0.125) points.push_back({x, y, z});
  std::shuffle(points.begin(), points.end(), dice.engine);
  const auto kept = hull_corners(points);
  CHECK(kept.size() == 8);
  for (const Vec3& p : box_corners({2, 1, 0.5})) CHECK(has(kept, p));
}

TEST_CASE("a turned, displaced and repeated box as well, to rounding") {
  Dice dice(32);
  for (int i = 0; i < 50; ++i) {
    const Pose X = dice.pose(5);
    std::vector<Vec3> points;
    for (double x = -1; x <= 1; x += 0.5)
      for (double y = -1; y <= 1; y += 0.5)
        for (double z = -1; z <= 1; z += 0.5) points.push_back(X * Vec3{x, y, z});
    const std::vector<Vec3> once = points;
    points.insert(points.end(), once.begin(), once.end());
    const auto kept = hull_corners(points);
    CHECK(kept.size() < 40);
    for (int k = 0; k < 200; ++k) {
      const Vec3 d = dice.direction();
      REQUIRE(std::fabs(reach(kept, d) - reach(points, d)) < 1e-9);
    }
  }
}

TEST_CASE("no point of a ball's surface is lost, no inner one kept") {
  Dice dice(33);
  std::vector<Vec3> surface, points;
  for (int i = 0; i < 1500; ++i) surface.push_back(dice.direction());
  points = surface;
  for (int i = 0; i < 1500; ++i) points.push_back(0.5 * dice.direction());
  const auto kept = hull_corners(points);
  CHECK(kept.size() == surface.size());
  for (int k = 0; k < 1000; ++k) {
    const Vec3 d = dice.direction();
    REQUIRE(std::fabs(reach(kept, d) - reach(points, d)) < 1e-12);
  }
}
