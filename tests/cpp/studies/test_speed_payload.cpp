#include "armwright/studies/speed_payload.hpp"

#include <cmath>

#include "armwright/kinematics/attitudes.hpp"
#include "armwright/kinematics/free_wrist.hpp"
#include "armwright/studies/payload.hpp"
#include "catch_shim.hpp"
#include "studies/by_hand.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

CellSpec strong_arm() {
  HandArm arm;
  arm.offset = 0.1, arm.bend = 1.1, arm.lower[0] = -2, arm.upper_limit[0] = 2.4, arm.lower[1] = -0.6, arm.upper_limit[1] = 2.6;
  CellSpec cell = arm.cell();
  for (std::size_t i = 0; i < 6; ++i) {
    cell.arm.links[i].inertia = {i < 3 ? 6.0 : 0.8, {i < 3 ? 0.2 : 0.02, 0.01, 0}, 0.02, 0.05, 0.05, 0, 0, 0};
    JointSpec& j = cell.arm.joints[i];
    j.torque_peak = i < 3 ? 320 : 45, j.torque_continuous = 0.6 * j.torque_peak;
    j.speed = i < 3 ? 1.5 : 3, j.acceleration = i < 3 ? 4 : 12;
  }
  return cell;
}

MotionDemand tool_and_speed(const Model& model) {
  MotionDemand demand;
  demand.tool_acceleration = 1.5;
  for (std::size_t i = 0; i < model.joint_count; ++i) demand.joint_speed[i] = 0.5 * model.speed[i];
  return demand;
}

std::vector<Vec3> some_positions(int count, double size) {
  Draw draw{8};
  std::vector<Vec3> positions;
  for (int k = 0; k < count; ++k) positions.push_back(draw.vector(size));
  return positions;
}

bool same(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); }
// But for rounding: one is worked out posture by posture, the other in packs.
bool alike(double a, double b) { return same(a, b) || std::fabs(a - b) <= 1e-12 * std::fabs(b); }

}  // namespace

TEST_CASE("at rest the map is the payload map; in motion the best of all postures, one by one") {
  const CellSpec cell = strong_arm();
  const auto search = search_of(cell);
  const auto attitudes = attitudes_along(spread_directions(12), 2);
  const auto positions = some_positions(250, 1.0);
  const MovingSetup setup = prepare_moving(search.model, {1, {0.05, 0, 0}}, tool_and_speed(*search.model));
  for (const Limit rest : {Limit::peak, Limit::continuous}) {
    const SpeedPayloadMap map = speed_payload_map(search, setup, positions, attitudes, rest, 2, {});
    const PayloadMap held = payload_map(search, positions, attitudes, {{0.05, 0, 0}, rest}, 2, {});
    REQUIRE(map.complete);
    int reached = 0, slower = 0;
    for (std::size_t i = 0; i < positions.size(); ++i) {
      CHECK(alike(map.rest_greatest[i], held.mass_greatest[i]));
      CHECK(alike(map.rest_least[i], held.mass_least[i]));
      CHECK((map.rest_joint[i] == held.limiting_joint[i] && map.rest_joint_least[i] == held.limiting_joint_least[i]));
      CHECK(std::isnan(map.greatest[i].mass) == std::isnan(held.mass_greatest[i]));
      double greatest = -1, least = std::numeric_limits<double>::infinity();
      auto work = make_posture_work(search, 1);
      for (const Rotation& R : attitudes) {
        double best = -1;
        visit_within_limits(search, work[0], {R, positions[i]}, search.samples[0], [&](const Posture& posture) {
          best = std::max(best, moving_payload(setup, posture.frames).mass);
          return false;
        });
        if (best < 0) continue;
        greatest = std::max(greatest, best);
        least = std::min(least, best);
      }
      if (greatest < 0) continue;
      ++reached;
      CHECK(map.greatest[i].mass == greatest);
      CHECK(map.least[i].mass == least);
      slower += rest == Limit::peak && greatest < 0.9 * map.rest_greatest[i];
      if (rest == Limit::peak) CHECK(map.greatest[i].mass <= map.rest_greatest[i] * (1 + 1e-9));
    }
    CHECK(reached > 60);
    if (rest == Limit::peak) CHECK(slower > 30);
  }
}

TEST_CASE("fixtures count: what is not clear carries nothing") {
  CellSpec cell = strong_arm();
  for (std::size_t i = 0; i < 3; ++i) {
    ShapeSpec shape;
    shape.kind = ShapeKind::sphere, shape.radius = 0.04, shape.name = "ball " + std::to_string(i);
    cell.arm.links[i].shapes = {shape};
  }
  ShapeSpec wall;
  wall.kind = ShapeKind::box, wall.name = "wall", wall.size = {0.1, 3, 3}, wall.pose = at({0.45, 0, 0});
  cell.fixtures = {wall};
  const auto search = search_of(cell, 0.1, true), open = search_of(cell);
  const auto attitudes = attitudes_along(spread_directions(8), 1);
  const auto positions = some_positions(240, 0.9);
  const MovingSetup setup = prepare_moving(search.model, {1, {0, 0, 0}}, tool_and_speed(*search.model));
  const SpeedPayloadMap map = speed_payload_map(search, setup, positions, attitudes, Limit::peak, 2, {});
  const SpeedPayloadMap free = speed_payload_map(open, setup, positions, attitudes, Limit::peak, 2, {});
  int lost = 0;
  for (std::size_t i = 0; i < positions.size(); ++i) {
    CHECK(std::isnan(map.rest_greatest[i]) == std::isnan(map.greatest[i].mass));
    if (!std::isnan(map.greatest[i].mass)) CHECK(map.greatest[i].mass <= free.greatest[i].mass);
    lost += std::isnan(map.greatest[i].mass) && !std::isnan(free.greatest[i].mass);
  }
  CHECK(lost > 3);
}

TEST_CASE("masses in motion: the same bits from any number of threads, and an end when it is stopped") {
  const auto search = search_of(strong_arm());
  const auto attitudes = attitudes_along(spread_directions(8), 1);
  const auto positions = some_positions(90, 0.8);
  const MovingSetup setup = prepare_moving(search.model, {1, {0, 0, 0}}, tool_and_speed(*search.model));
  const SpeedPayloadMap one = speed_payload_map(search, setup, positions, attitudes, Limit::peak, 1, {});
  for (unsigned threads = 2; threads <= 4; ++threads) {
    const SpeedPayloadMap more = speed_payload_map(search, setup, positions, attitudes, Limit::peak, threads, {});
    for (std::size_t i = 0; i < positions.size(); ++i) {
      CHECK((same(more.greatest[i].mass, one.greatest[i].mass) && same(more.least[i].mass, one.least[i].mass) && same(more.rest_greatest[i], one.rest_greatest[i])));
      CHECK((more.greatest[i].axis == one.greatest[i].axis && more.greatest[i].part == one.greatest[i].part && more.greatest[i].limit == one.greatest[i].limit));
    }
  }
  const auto many = some_positions(200000, 0.8);
  CHECK_FALSE(speed_payload_map(search, setup, many, attitudes, Limit::peak, 2, {[](std::size_t, std::size_t) { return false; }}).complete);
}

TEST_CASE("a tool frame let turn freely stands for any attitude of an arm of few joints") {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, 0, 1}), joint("axis 2", identity_pose, {0, -1, 0}), joint("axis 3", at({0.6, 0, 0}), {0, -1, 0})};
  cell.arm.links.resize(3);
  for (auto& link : cell.arm.links) link.inertia = {3, {0.2, 0, 0}, 0.01, 0.02, 0.02, 0, 0, 0};
  for (auto& j : cell.arm.joints) j.torque_peak = j.torque_continuous = 150;
  cell.arm.flange = at({0.5, 0, 0});
  const auto model = std::make_shared<const Model>(compile(cell));
  const auto search = make_search(std::make_shared<const ArmInverse>(prepare_arm_inverse(with_free_wrist(*model))), nullptr, 0, 0.1, half_turn / 12);
  MotionDemand demand;
  demand.tool_acceleration = 2;
  const MovingSetup setup = prepare_moving(model, {1, {0, 0, 0}}, demand);
  CHECK(setup.translations == 3);
  const std::vector<Vec3> position{{0.5, 0.3, 0.2}};
  const std::vector<Rotation> any{turn_about({0.6, 0, 0.8}, 1.0)};
  const SpeedPayloadMap map = speed_payload_map(search, setup, position, any, Limit::peak, 1, {});
  // By hand: both elbows, and for each the mass of that posture.
  const double r = std::hypot(0.5, 0.3), c3 = (r * r + 0.04 - 0.36 - 0.25) / 0.6;
  double best = 0;
  for (const double side : {1.0, -1.0})
    for (const int turned : {0, 1}) {
      const double reach = turned ? -r : r, q3 = side * std::acos(c3), q1 = std::atan2(0.3, 0.5) + turned * half_turn;
      const double q2 = std::atan2(0.2, reach) - std::atan2(0.5 * std::sin(q3), 0.6 + 0.5 * std::cos(q3));
      MovingPayload answer;
      moving_payloads(setup, std::vector<double>{q1, q2, q3}, {&answer, 1});
      best = std::max(best, answer.mass);
    }
  CHECK(map.greatest[0].mass == Approx(best).epsilon(1e-9));
  CHECK(best > 1);
}
