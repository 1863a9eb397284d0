#include "armwright/studies/targets.hpp"

#include <cmath>

#include "armwright/dynamics/gravity.hpp"
#include "catch_shim.hpp"
#include "studies/by_hand.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

TargetSpec target(Vec3 position, Rotation attitude = no_rotation) {
  TargetSpec t;
  t.name = "point", t.pose = {attitude, position};
  return t;
}

TargetAnswer check(const CellSpec& cell, const TargetSpec& wanted, const TargetRequest& request = {}, double margin = 0) {
  return check_targets(search_of(cell, 0.05, true, margin), {&wanted, 1}, request, 1, {}).front();
}

CellSpec ball_on_tool(const HandArm& arm) {
  CellSpec cell = arm.cell();
  cell.arm.links[5].shapes.resize(1);
  cell.arm.links[5].shapes[0].kind = ShapeKind::sphere, cell.arm.links[5].shapes[0].radius = 0.05;
  return cell;
}

}  // namespace

TEST_CASE("a point in reach is served by a posture that brings the tool there") {
  HandArm arm;
  arm.offset = 0.1;
  Draw draw{1};
  for (int k = 0; k < 50; ++k) {
    const TargetSpec wanted = target(0.8 * draw.direction(), draw.pose(1).rotation);
    const auto answer = check(arm.cell(), wanted);
    REQUIRE(answer.outcome == Outcome::served);
    CHECK(furthest(slow_frames(arm.cell(), answer.q.data()).tool, wanted.pose) < 1e-9);
    CHECK(answer.postures == 2 * arm.wrists(wanted.pose.position).size());  // the wrist, flipped or not
  }
}

TEST_CASE("out of reach by the distance beyond the ball, too near by what is missing to its hole") {
  HandArm arm;  // 0.1 m to 1.1 m
  auto answer = check(arm.cell(), target({1.0, 0.8, 0.4}));
  CHECK(answer.outcome == Outcome::out_of_reach);
  CHECK_FALSE(answer.has_posture);
  CHECK_FALSE(answer.too_near);
  CHECK(answer.shortfall == Approx(std::sqrt(1.8) - 1.1).margin(2e-4));
  answer = check(arm.cell(), target({0.03, 0.0, 0.04}));
  CHECK(answer.outcome == Outcome::out_of_reach);
  CHECK(answer.too_near);
  CHECK(answer.shortfall == Approx(0.05).margin(2e-4));
}

TEST_CASE("a track brings it nearer: out of reach only by what the track does not make up") {
  CellSpec cell = HandArm{}.cell();
  cell.track = TrackSpec{};
  cell.track->upper = 2;
  CHECK(check(cell, target({2.9, 0, 0.2})).outcome == Outcome::served);
  const auto answer = check(cell, target({3.5, 0, 0}));
  CHECK(answer.outcome == Outcome::out_of_reach);
  CHECK(answer.shortfall == Approx(0.4).margin(2e-4));
}

TEST_CASE("past a limit: the joint, and the least that any posture is past it") {
  HandArm arm;
  arm.lower[0] = -1, arm.upper_limit[0] = 1;                    // axis 1
  arm.lower[1] = -0.2, arm.upper_limit[1] = quarter_turn - 0.2;  // no reaching over the back
  arm.lower[2] = -2.8, arm.upper_limit[2] = 2.8;
  const auto answer = check(arm.cell(), target({0.9 * std::cos(1.3), 0.9 * std::sin(1.3), 0.1}));
  CHECK(answer.outcome == Outcome::beyond_limits);
  CHECK(answer.has_posture);
  CHECK(answer.limit_joint == 0);
  CHECK(answer.excess == Approx(0.3).margin(1e-9));
}

TEST_CASE("overlapped: by how much, with what; not enough room: how much there is") {
  CellSpec cell = ball_on_tool(HandArm{});
  ShapeSpec ball;
  ball.kind = ShapeKind::sphere, ball.name = "ball", ball.radius = 0.2, ball.pose = at({0.7, 0, 0.3});
  cell.fixtures = {ball};
  auto answer = check(cell, target({0.7, 0.23, 0.3}));
  CHECK(answer.outcome == Outcome::obstructed);
  CHECK(answer.clearance.distance == Approx(-0.02));
  answer = check(cell, target({0.7, 0.26, 0.3}), {}, 0.03);
  CHECK(answer.outcome == Outcome::obstructed);
  CHECK(answer.clearance.distance == Approx(0.01));
  CHECK(check(cell, target({0.7, 0.29, 0.3}), {}, 0.03).outcome == Outcome::served);
}

TEST_CASE("overloaded: the most that any posture holds; and an arm that cannot hold itself") {
  HandArm arm;
  CellSpec cell = arm.cell();
  cell.arm.joints[1].torque_continuous = cell.arm.joints[1].torque_peak = 100;
  cell.arm.links[1].inertia = {4, {0.3, 0, 0}};
  TargetSpec wanted = target({0.8, 0, 0});
  wanted.mass = 20;
  // The load hangs 0.8 m from axis 2; of the two elbows both hold the same at this height.
  double best = 0;
  for (const Vec3& q : arm.wrists(wanted.pose.position)) {
    const double own = g0 * 4 * 0.3 * std::cos(q.y), lever = g0 * (q.x > 1 || q.x < -1 ? -0.8 : 0.8);
    best = std::fmax(best, (100 - std::copysign(1, lever) * own) / std::fabs(lever));
  }
  const auto answer = check(cell, wanted);
  CHECK(answer.outcome == Outcome::overloaded);
  CHECK(answer.payload.mass == Approx(best));
  CHECK(answer.payload.joint == 1);
  wanted.mass = best - 0.01;
  CHECK(check(cell, wanted).outcome == Outcome::served);
  cell.arm.joints[1].torque_continuous = 5;
  cell.arm.joints[1].lower = -1.2, cell.arm.joints[1].upper = 1.2;  // else one reaches over the back, in balance
  const auto weak = check(cell, wanted);
  CHECK(weak.outcome == Outcome::overloaded);
  CHECK_FALSE(weak.payload.holds_itself);
}

TEST_CASE("free spin and a tilt serve what the exact attitude cannot") {
  HandArm arm;
  arm.bend = 0.5;
  const CellSpec cell = arm.cell();
  // Straight out; tool x square to the forearm: axis 5 would have to bend a quarter turn.
  TargetSpec wanted = target({1.0, 0, 0}, turn_about({0, 0, 1}, quarter_turn));
  CHECK(check(cell, wanted).outcome == Outcome::beyond_limits);
  wanted.free_spin = true;  // about the tool's z, which is upright: x may turn to lie along the arm
  auto answer = check(cell, wanted);
  REQUIRE(answer.outcome == Outcome::served);
  CHECK(std::acos(slow_frames(cell, answer.q.data()).tool.rotation.z.z) < 1e-7);
  wanted = target({1.0, 0, 0}, turn_about({0, 1, 0}, -quarter_turn));  // tool x upright: a tilt of z must bring it down
  wanted.tilt = 0.5;
  CHECK(check(cell, wanted).outcome == Outcome::beyond_limits);
  wanted.tilt = 1.5;
  answer = check(cell, wanted);
  REQUIRE(answer.outcome == Outcome::served);
  CHECK(std::acos(dot(slow_frames(cell, answer.q.data()).tool.rotation.z, wanted.pose.rotation.z)) <= 1.5 + 1e-7);
}

TEST_CASE("the order says what is best: its first word is as good as any other order gets it") {
  HandArm arm;
  arm.offset = 0.1;
  CellSpec cell = ball_on_tool(arm);
  cell.track = TrackSpec{};
  cell.track->upper = 1.2;
  ShapeSpec ball;
  ball.kind = ShapeKind::sphere, ball.name = "ball", ball.radius = 0.1, ball.pose = at({0.7, 0.9, 0.3});
  cell.fixtures = {ball};
  cell.arm.links[1].inertia = {4, {0.3, 0, 0}};
  cell.arm.joints[1].torque_continuous = cell.arm.joints[1].torque_peak = 300;
  cell.arm.links[2].shapes.resize(1);
  cell.arm.links[2].shapes[0].kind = ShapeKind::capsule, cell.arm.links[2].shapes[0].radius = 0.04;
  cell.arm.links[2].shapes[0].length = 0.3, cell.arm.links[2].shapes[0].pose = Pose{turn_about({0, 1, 0}, quarter_turn), {0.2, 0, 0}};
  TargetSpec wanted = target({0.6, 0.6, 0.2});
  wanted.free_spin = true;
  const std::vector<Merit> merits{Merit::limit_margin, Merit::clearance, Merit::payload, Merit::manipulability};
  const auto value = [](const TargetAnswer& a, Merit m) {
    return m == Merit::limit_margin ? a.limit_margin : m == Merit::clearance ? a.clearance.distance : m == Merit::payload ? a.payload.mass : a.manipulability;
  };
  std::vector<TargetAnswer> best;
  for (const Merit first : merits) {
    TargetRequest request;
    request.order = {first};
    best.push_back(check(cell, wanted, request));
    REQUIRE(best.back().outcome == Outcome::served);
  }
  int differ = 0;
  for (std::size_t i = 0; i < merits.size(); ++i)
    for (std::size_t j = 0; j < merits.size(); ++j) {
      const double step[] = {0.02, 0.002, 0.1, 0.001};
      CHECK(value(best[i], merits[i]) >= value(best[j], merits[i]) - step[i]);
      differ += value(best[i], merits[i]) > value(best[j], merits[i]) + 3 * step[i];
    }
  CHECK(differ >= 4);
}

TEST_CASE("the same answers from any number of threads; none of them if it was stopped") {
  HandArm arm;
  CellSpec cell = arm.cell();
  cell.track = TrackSpec{};
  cell.track->upper = 2;
  const auto search = search_of(cell);
  Draw draw{5};
  std::vector<TargetSpec> wanted;
  for (int k = 0; k < 12; ++k) wanted.push_back(target(draw.vector(1.5), draw.pose(1).rotation)), wanted.back().free_spin = k % 3 == 0;
  const auto one = check_targets(search, wanted, {}, 1, {});
  for (unsigned threads = 2; threads <= 3; ++threads) {
    const auto more = check_targets(search, wanted, {}, threads, {});
    for (std::size_t i = 0; i < wanted.size(); ++i)
      CHECK((more[i].q == one[i].q && more[i].outcome == one[i].outcome && more[i].shortfall == one[i].shortfall));
  }
  wanted.resize(400, wanted[0]);
  for (auto& w : wanted) w.free_spin = true, w.tilt = 0.3;
  CHECK(check_targets(search, wanted, {}, 1, {[](std::size_t, std::size_t) { return false; }}).empty());
}
