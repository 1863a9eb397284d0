#include "armwright/studies/outlines.hpp"

#include <cmath>

#include "catch_shim.hpp"
#include "studies/by_hand.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

std::vector<std::vector<Point2>> split(const std::vector<Point2>& points) {
  std::vector<std::vector<Point2>> curves(1);
  for (const Point2& p : points) {
    if (std::isnan(p[0])) curves.emplace_back();
    else curves.back().push_back(p);
  }
  return curves;
}

double area(const std::vector<Point2>& c) {  // the shoelace formula, closed by a straight line
  double sum = 0;
  for (std::size_t i = 0; i < c.size(); ++i) {
    const Point2 &a = c[i], &b = c[(i + 1) % c.size()];
    sum += a[0] * b[1] - b[0] * a[1];
  }
  return 0.5 * std::fabs(sum);
}

Outlines drawn(const CellSpec& cell, double spacing = 0.05) {
  OutlineRequest request;
  request.spacing = spacing, request.directions = 6;
  return outlines(search_of(cell, spacing), request, 2, {});
}

}  // namespace

TEST_CASE("full turns, no offset: half a ring in section, a disc in plan") {
  const Outlines found = drawn(HandArm{}.cell());
  REQUIRE(found.complete);
  const auto section = split(found.section);
  REQUIRE(section.size() == 2);  // both run off the grid at axis 1
  for (const auto& curve : section) {
    const double radius = std::hypot(curve[0][0], curve[0][1]) > 0.5 ? 1.1 : 0.1;
    for (const Point2& p : curve) CHECK(std::hypot(p[0], p[1]) == Approx(radius).margin(0.05 / 50));
    CHECK(area(curve) == Approx(0.5 * half_turn * radius * radius).epsilon(radius > 1 ? 0.01 : 0.2));
  }
  const auto plan = split(found.plan);
  REQUIRE(plan.size() == 1);
  CHECK(plan[0].front() == plan[0].back());
  for (const Point2& p : plan[0]) CHECK(std::hypot(p[0], p[1]) == Approx(1.1).margin(0.05 / 10));
  CHECK(area(plan[0]) == Approx(half_turn * 1.21).epsilon(0.01));
}

TEST_CASE("a shoulder far from axis 1: a disc in section, an annulus in plan") {
  HandArm arm;
  arm.offset = 1, arm.upper = 0.2, arm.fore = 0.2;
  const Outlines found = drawn(arm.cell(), 0.04);
  const auto section = split(found.section);
  REQUIRE(section.size() == 1);
  CHECK(section[0].front() == section[0].back());
  for (const Point2& p : section[0]) CHECK(std::hypot(p[0] - 1, p[1]) == Approx(0.4).margin(0.04 / 50));
  CHECK(area(section[0]) == Approx(half_turn * 0.16).epsilon(0.01));
  const auto plan = split(found.plan);
  REQUIRE(plan.size() == 2);
  const double a = area(plan[0]), b = area(plan[1]);
  CHECK(std::fabs(a - b) == Approx(half_turn * (1.4 * 1.4 - 0.6 * 0.6)).epsilon(0.015));
}

TEST_CASE("a range of axis 1 cuts a sector out of the plan, and leaves the section") {
  HandArm arm;
  arm.offset = 1, arm.upper = 0.2, arm.fore = 0.2, arm.lower[0] = -0.5, arm.upper_limit[0] = 1;
  arm.lower[1] = -1.5, arm.upper_limit[1] = 1.5;
  const Outlines found = drawn(arm.cell(), 0.04);
  double plan = 0;
  for (const auto& curve : split(found.plan)) {
    plan += area(curve);
    for (const Point2& p : curve) {
      const double angle = std::atan2(p[1], p[0]);
      CHECK((angle > -0.54 && angle < 1.04));
    }
  }
  CHECK(plan < 0.5 * 1.5 * (1.4 * 1.4 - 0.6 * 0.6) * 1.02);
  CHECK(plan > 0.5 * 1.5 * (1.4 * 1.4 - 0.8 * 0.8) * 0.98);
}

TEST_CASE("along a track the plan is swept") {
  CellSpec cell = HandArm{}.cell();
  cell.track = TrackSpec{};
  cell.track->upper = 1;
  const auto plan = split(drawn(cell).plan);
  REQUIRE(plan.size() == 1);
  CHECK(area(plan[0]) == Approx(half_turn * 1.21 + 2 * 1.1 * 1).epsilon(0.01));
}

TEST_CASE("the wrist centre is where axes 5 and 6 come nearest, whatever the tool") {
  CellSpec cell = HandArm{}.cell();
  cell.arm.flange = at({0.1, 0, 0});
  cell.tool.tool_point = Pose{turn_about({0, 1, 0}, 0.4), {0.2, 0.1, 0}};
  cell.arm.joints[5].placement = at({0.07, 0, 0});  // along axis 6: the wrist centre stays
  const Model wrist = at_wrist_centre(compile(cell));
  Draw draw{1};
  for (int k = 0; k < 20; ++k) {
    std::vector<double> q(6);
    for (double& x : q) x = draw.uniform(-3, 3);
    std::array<Pose, max_joints> frames;
    joint_frames(wrist, q.data(), frames.data());
    CHECK(norm(frames[5] * wrist.tool.position - slow_frames(cell, q.data()).link[4].position) < 1e-13);
  }
}
