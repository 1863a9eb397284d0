#include "armwright/clearance/corner_map.hpp"

#include <numbers>

#include "armwright/clearance/convex.hpp"
#include "armwright/clearance/hull.hpp"
#include "catch_shim.hpp"
#include "solids.hpp"

// The map of corners by directions is held to asking every corner: it is to find the very same one.

using namespace armwright;
using namespace armwright::testing;

namespace {

Core core_of(const std::vector<Vec3>& points, const CornerMap* map) {
  Core core;
  core.kind = Core::Kind::points;
  core.points = points.data(), core.count = points.size(), core.map = map;
  return core;
}

std::size_t farthest_of_all(const std::vector<Vec3>& points, const Vec3& way) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < points.size(); ++i)
    if (dot(points[i], way) > dot(points[best], way)) best = i;
  return best;
}

// Corners of every sort: on a ball, a disc's rim above and below, a box cut fine, a needle, a flat cloud, one place over and
// over, places equal but for rounding, far from the frame's origin.
std::vector<Vec3> corners_of(Dice& dice, int sort, std::size_t count) {
  std::vector<Vec3> points;
  for (std::size_t i = 0; i < count; ++i) {
    const Vec3 on_ball = dice.direction();
    const double turn = 2 * std::numbers::pi * static_cast<double>(i / 2) / static_cast<double>((count + 1) / 2);
    const auto whole = [&] { return std::floor(dice.within(0, 3.999)) / 3; };
    switch (sort) {
      case 0: points.push_back(on_ball); break;
      case 1: points.push_back({std::cos(turn), std::sin(turn), i % 2 ? 0.3 : -0.3}); break;
      case 2: points.push_back({whole(), whole(), whole()}); break;
      case 3: points.push_back({1e-9 * on_ball.x, 1e-9 * on_ball.y, on_ball.z}); break;
      case 4: points.push_back({on_ball.x, on_ball.y, 0.5}); break;
      case 5: points.push_back({1, 2, 3}); break;
      case 6: points.push_back(i % 7 == 0 ? on_ball : points[i / 7 * 7] + 1e-16 * on_ball); break;
      default: points.push_back(0.3 * on_ball + Vec3{900, -700, 400});
    }
  }
  return points;
}

}  // namespace

TEST_CASE("the map finds the very corner that asking all finds") {
  Dice dice(71);
  for (int sort = 0; sort < 8; ++sort) {
    for (const std::size_t count : {1, 2, 3, 8, 9, 31, 64, 200, 1500}) {
      const std::vector<Vec3> points = corners_of(dice, sort, count);
      const CornerMap map = map_corners(points);
      CAPTURE(sort, count);
      const auto ask = [&](const Vec3& way) { REQUIRE(farthest_corner(map, points.data(), way) == farthest_of_all(points, way)); };
      for (int k = 0; k < 1000; ++k) ask(dice.within(0.001, 1000) * dice.direction());
      // Along axes and diagonals, on the cells' edges, square to faces of the corners, and a little beside all of these.
      for (int x = -4; x <= 4; ++x)
        for (int y = -4; y <= 4; ++y)
          for (int z = -4; z <= 4; ++z) {
            if (x == 0 && y == 0 && z == 0) continue;
            const Vec3 way{0.25 * x, 0.25 * y, 0.25 * z};
            ask(way);
            for (const double off : {1e-17, 1e-16, 1e-12, 1e-8}) ask(way + off * dice.direction());
          }
      for (int k = 0; k < 200 && count > 2; ++k) {
        const auto any = [&] { return points[static_cast<std::size_t>(dice.share() * 0.999999 * static_cast<double>(count))]; };
        const Vec3 a = any(), n = cross(any() - a, any() - a);
        if (norm(n) > 1e-14) ask(n), ask(-n);
      }
    }
  }
}

TEST_CASE("few corners of a ball are asked along any direction, however many there are") {
  Dice dice(72);
  for (const std::size_t count : {200, 800, 3200, 12800}) {
    const CornerMap map = map_corners(corners_of(dice, 0, count));
    CHECK(map.listed.size() < 24 * count);
    double asked = 0, leaves = 0;
    for (const CornerMap::Cell& cell : map.cells) asked += cell.count, leaves += cell.count > 0 ? 1 : 0;
    CHECK(asked / leaves < 8);
  }
  // Nor does what is kept of a disc outgrow the corners.
  CHECK(map_corners(corners_of(dice, 1, 20000)).listed.size() <= 24 * 20000);
}

TEST_CASE("distances and depths of hulls of many corners are those with every corner asked") {
  Dice dice(73);
  int apart = 0, touching = 0, inside = 0;
  for (int k = 0; k < 400; ++k) {
    const std::vector<Vec3> a = hull_corners(corners_of(dice, k % 2, 40 + static_cast<std::size_t>(k % 300))), b = hull_corners(corners_of(dice, k / 2 % 2, 120));
    const CornerMap map_a = map_corners(a), map_b = map_corners(b);
    Pose X = dice.pose(k % 3 == 0 ? 0.5 : 4);
    if (k % 4 == 3) X = {no_rotation, {0.1 * (k % 5), 0, k % 3 == 1 ? 0.6 : 0.7}};  // face on face: touching, or near
    const Separation fast = convex_separation(core_of(a, &map_a), core_of(b, &map_b), X), plain = convex_separation(core_of(a, nullptr), core_of(b, nullptr), X);
    CAPTURE(k, plain.distance);
    REQUIRE(fast.distance == plain.distance);
    REQUIRE((norm(fast.a - plain.a) == 0 && norm(fast.b - plain.b) == 0));
    (plain.distance > 1e-9 ? apart : plain.distance < -1e-9 ? inside : touching) += 1;
  }
  CHECK(apart > 50);
  CHECK(touching > 5);
  CHECK(inside > 50);
}

TEST_CASE("a prepared hull has a map when it has many corners, and its own distance is as before") {
  Dice dice(74);
  const ShapeSpec ball = hull(corners_of(dice, 0, 500)), small = hull(box_corners({1, 1, 1}));
  CHECK(prepare_shape("ball", ball).corner_map != nullptr);
  CHECK(prepare_shape("small", small).corner_map == nullptr);
  // From a sphere far out along a corner: the distance of two points less a radius.
  const Vec3 corner = ball.points[7];
  CHECK(distance(ball, sphere(0.5, at(3.0 * corner))) == Approx(3.0 * norm(corner) - norm(corner) - 0.5).epsilon(1e-12));
}
