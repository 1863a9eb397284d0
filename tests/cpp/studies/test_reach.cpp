#include "armwright/studies/reach.hpp"

#include <cmath>

#include "armwright/kinematics/attitudes.hpp"
#include "armwright/spatial/grid.hpp"
#include "catch_shim.hpp"
#include "studies/by_hand.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

HandArm limited_arm() {
  HandArm arm;
  arm.offset = 0.12, arm.lower[0] = -2.1, arm.upper_limit[0] = 1.3, arm.lower[1] = -0.4, arm.upper_limit[1] = 2.3;
  arm.lower[2] = -2.4, arm.upper_limit[2] = 0.2, arm.bend = 1.2;
  return arm;
}

std::vector<Vec3> positions_of(const Grid& grid) {
  std::vector<Vec3> positions(grid.size());
  for (std::size_t i = 0; i < positions.size(); ++i) positions[i] = grid.position(i);
  return positions;
}

Grid odd_grid(double half, double spacing) {  // off the symmetries, where rounding decides
  const auto count = static_cast<std::size_t>(2 * half / spacing) + 1;
  return {{-half + 0.0123, -half + 0.0077, -half + 0.0031}, spacing, {count, count, count}};
}

bool same(const std::vector<double>& a, const std::vector<double>& b) {  // NaN included
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [](double x, double y) { return x == y || (std::isnan(x) && std::isnan(y)); });
}

ShapeSpec box(const std::string& name, Vec3 size, Pose pose) {
  ShapeSpec s;
  s.kind = ShapeKind::box, s.name = name, s.size = size, s.pose = pose;
  return s;
}

}  // namespace

TEST_CASE("attitudes reached are those counted by hand, limits of arm and wrist included") {
  const HandArm arm = limited_arm();
  const Grid grid = odd_grid(1.2, 0.2);
  const auto attitudes = attitudes_along(spread_directions(24), 3);
  const ReachMap map = reach_map(search_of(arm.cell()), positions_of(grid), attitudes, 2, {});
  REQUIRE(map.complete);
  int all = 0, some = 0, none = 0;
  for (std::size_t i = 0; i < grid.size(); ++i) {
    std::int32_t count = 0;
    for (const Rotation& R : attitudes) count += !arm.postures({R, grid.position(i)}).empty();
    CHECK(map.attitudes_reached[i] == count);
    ++(count == 0 ? none : count == static_cast<std::int32_t>(attitudes.size()) ? all : some);
    CHECK(std::isnan(map.limit_margin[i]) == (count == 0));
    CHECK(std::isnan(map.manipulability[i]) == (count == 0));
    if (count > 0) CHECK((map.limit_margin[i] >= 0 && map.limit_margin[i] <= 1 && map.manipulability[i] > 0));
  }
  CHECK((some > 50 && none > 50));
}

TEST_CASE("the same bits from any number of threads, with fixtures and a track") {
  CellSpec cell = limited_arm().cell();
  cell.track = TrackSpec{};
  cell.track->axis = {0, 1, 0}, cell.track->upper = 0.7;
  cell.fixtures = {box("post", {0.1, 0.1, 2}, at({0.6, 0.3, 0}))};
  cell.arm.links[1].shapes = {box("", {0.5, 0.06, 0.06}, at({0.3, 0, 0}))};
  const auto search = search_of(cell, 0.2, true, 0.01);
  const auto attitudes = attitudes_along(spread_directions(6), 2);
  const Grid grid = odd_grid(0.9, 0.45);
  const ReachMap one = reach_map(search, positions_of(grid), attitudes, 1, {});
  for (unsigned threads = 2; threads <= 5; ++threads) {
    const ReachMap more = reach_map(search, positions_of(grid), attitudes, threads, {});
    CHECK(more.attitudes_reached == one.attitudes_reached);
    for (const auto part : {&ReachMap::limit_margin, &ReachMap::manipulability, &ReachMap::clearance, &ReachMap::track_lower, &ReachMap::track_upper})
      CHECK(same(more.*part, one.*part));
  }
}

TEST_CASE("the track interval is where the ball about the arm holds the point: x -+ sqrt(R^2 - y^2 - z^2)") {
  HandArm arm;  // reach 1.1 m, hole 0.1 m
  CellSpec cell = arm.cell();
  cell.track = TrackSpec{};
  cell.track->upper = 3;
  const auto search = search_of(cell, 0.25);
  const Grid grid{{-0.5, 0.3, -0.2}, 0.17, {24, 3, 3}};
  const ReachMap map = reach_map(search, positions_of(grid), attitudes_along(spread_directions(1), 1), 1, {});
  int inside = 0;
  for (std::size_t i = 0; i < grid.size(); ++i) {
    const Vec3 p = grid.position(i);
    const double half = std::sqrt(1.1 * 1.1 - p.y * p.y - p.z * p.z), lower = std::fmax(0, p.x - half), upper = std::fmin(3, p.x + half);
    CAPTURE(p.x, p.y, p.z);
    REQUIRE(map.attitudes_reached[i] == (upper - lower > 0));
    CHECK(map.track_lower[i] == Approx(lower).margin(2e-4));
    CHECK(map.track_upper[i] == Approx(upper).margin(2e-4));
    CHECK(map.track_lower[i] >= lower - 1e-9);
    CHECK(map.track_upper[i] <= upper + 1e-9);
    inside += lower > 0 && upper < 3;
  }
  CHECK(inside > 20);
}

TEST_CASE("track interval ends against sampling every 0.1 mm, with limits on arm and wrist") {
  HandArm arm = limited_arm();
  CellSpec cell = arm.cell();
  cell.track = TrackSpec{};
  cell.track->axis = {0, 1, 0}, cell.track->upper = 1.6;
  const auto search = search_of(cell, 0.1);
  const auto attitudes = attitudes_along(spread_directions(7), 1);
  const Grid grid{{0.31, 0.2, 0.1}, 0.23, {3, 6, 3}};
  const ReachMap map = reach_map(search, positions_of(grid), attitudes, 2, {});
  int checked = 0;
  for (std::size_t i = 0; i < grid.size(); ++i) {
    const Vec3 p = grid.position(i);
    double lower = NAN, upper = NAN;
    for (int k = 0; k <= 16000; ++k) {
      const double at_track = 1e-4 * k;
      const auto wrists = arm.wrists({p.x, p.y - at_track, p.z});
      const bool served = std::any_of(wrists.begin(), wrists.end(), [&](const Vec3& q) {
        return std::any_of(attitudes.begin(), attitudes.end(), [&](const Rotation& R) { return arm.takes(q, R); });
      });
      if (!served) continue;
      if (std::isnan(lower)) lower = at_track;
      upper = at_track;
    }
    if (map.attitudes_reached[i] == 0) {
      CHECK((std::isnan(map.track_lower[i]) && (std::isnan(lower) || upper - lower < 0.1)));
      continue;
    }
    ++checked;
    CAPTURE(p.x, p.y, p.z);
    CHECK(map.track_lower[i] == Approx(lower).margin(2.1e-4));
    CHECK(map.track_upper[i] == Approx(upper).margin(2.1e-4));
  }
  CHECK(checked > 20);
}

TEST_CASE("a fixture takes away what it stands in the way of, and no more; clearance is kept") {
  HandArm arm;
  CellSpec cell = arm.cell();
  cell.arm.links[5].shapes.resize(1);
  cell.arm.links[5].shapes[0].kind = ShapeKind::sphere, cell.arm.links[5].shapes[0].radius = 0.05;  // about the tool point
  ShapeSpec ball;
  ball.kind = ShapeKind::sphere, ball.name = "ball", ball.radius = 0.2, ball.pose = at({0.7, 0.1, 0.3});
  cell.fixtures = {ball};
  const auto attitudes = attitudes_along(spread_directions(2), 1);
  const Grid grid = odd_grid(1.2, 0.15);
  const ReachMap map = reach_map(search_of(cell, 0.1, true, 0.03), positions_of(grid), attitudes, 2, {});
  for (std::size_t i = 0; i < grid.size(); ++i) {
    const Vec3 p = grid.position(i);
    const double gap = norm(p - ball.pose.position) - 0.25;
    const bool reached = !arm.wrists(p).empty() && gap >= 0.03;
    CHECK(map.attitudes_reached[i] == (reached ? 2 : 0));
    if (reached) CHECK(map.clearance[i] == Approx(gap).epsilon(1e-9));
  }
}

TEST_CASE("the farthest reach is told from the links' lengths, nearly parallel axes or not") {
  for (const double lean : {0.0, 1e-13, 1e-7, 1e-3, 1e-2}) {
    CellSpec cell = HandArm{}.cell();
    cell.arm.joints[2].axis = turn_about({1, 0, 0}, lean) * cell.arm.joints[2].axis;
    const double reach = search_of(cell).reach;
    CHECK(reach >= 1.1);
    CHECK(reach < 1.3);
  }
}

TEST_CASE("a report that says no leaves the map incomplete and says so") {
  const Progress no{[](std::size_t, std::size_t) { return false; }};
  const ReachMap map = reach_map(search_of(limited_arm().cell()), positions_of(odd_grid(1.2, 0.03)), attitudes_along(spread_directions(200), 4), 2, no);
  CHECK_FALSE(map.complete);
  CHECK(std::count(map.attitudes_reached.begin(), map.attitudes_reached.end(), -1) > 0);
}
