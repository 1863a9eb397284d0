#include "armwright/studies/payload.hpp"

#include <cmath>

#include "armwright/kinematics/attitudes.hpp"
#include "catch_shim.hpp"
#include "studies/by_hand.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// Masses of 8 kg in the middle of the upper arm and 3 kg in the middle of the forearm; axes 2 and 3 are limited.
constexpr double upper_mass = 8, fore_mass = 3, shoulder = 160, elbow = 55;

CellSpec loaded(const HandArm& arm) {
  CellSpec cell = arm.cell();
  cell.arm.links[1].inertia = {upper_mass, {0.5 * arm.upper, 0, 0}};
  cell.arm.links[2].inertia = {fore_mass, {0.5 * arm.fore, 0, 0}};
  cell.arm.joints[1].torque_continuous = shoulder, cell.arm.joints[1].torque_peak = 1.5 * shoulder;
  cell.arm.joints[2].torque_continuous = elbow, cell.arm.joints[2].torque_peak = 1.5 * elbow;
  return cell;
}

struct Held {
  double mass;
  int joint;
};

// Level distances of the masses from each axis, times g, by hand; the load hangs in the tool point.
Held held_by_hand(const HandArm& arm, const Vec3& q) {
  const double first = std::cos(q.y), second = std::cos(q.y + q.z);
  const double own[2] = {g0 * (upper_mass * 0.5 * arm.upper * first + fore_mass * (arm.upper * first + 0.5 * arm.fore * second)),
                         g0 * fore_mass * 0.5 * arm.fore * second};
  const double lever[2] = {g0 * (arm.upper * first + arm.fore * second), g0 * arm.fore * second};
  const double limit[2] = {shoulder, elbow};
  Held worst{infinite, -1};
  double share = 1;
  bool fails = false;
  for (int i = 0; i < 2; ++i) {
    if (std::fabs(own[i]) > limit[i]) {
      if (std::fabs(own[i]) / limit[i] > share) worst = {0, i + 1}, share = std::fabs(own[i]) / limit[i];
      fails = true;
    }
    const double mass = (limit[i] - std::copysign(1, lever[i]) * own[i]) / std::fabs(lever[i]);
    if (!fails && mass < worst.mass) worst = {mass, i + 1};
  }
  return worst;
}

}  // namespace

TEST_CASE("greatest and least mass over the attitudes are those found by hand") {
  HandArm arm;
  arm.offset = 0.1, arm.bend = 1.1, arm.lower[0] = -2, arm.upper_limit[0] = 2.4, arm.lower[1] = -0.6, arm.upper_limit[1] = 2.6;
  const CellSpec cell = loaded(arm);
  const auto attitudes = attitudes_along(spread_directions(20), 2);
  Draw draw{1};
  std::vector<Vec3> positions;
  for (int k = 0; k < 400; ++k) positions.push_back(draw.vector(1.2));
  const PayloadMap map = payload_map(search_of(cell), positions, attitudes, {}, 2, {});
  REQUIRE(map.complete);
  int reached = 0, differ = 0;
  for (std::size_t i = 0; i < positions.size(); ++i) {
    Held greatest{-1, -1}, least{infinite, -1};
    for (const Rotation& R : attitudes) {
      Held best{-1, -1};
      for (const Vec3& q : arm.postures({R, positions[i]}))
        if (const Held held = held_by_hand(arm, q); held.mass > best.mass) best = held;
      if (best.mass < 0) continue;
      if (best.mass > greatest.mass) greatest = best;
      if (best.mass < least.mass) least = best;
    }
    CHECK(std::isnan(map.mass_greatest[i]) == (greatest.mass < 0));
    if (greatest.mass < 0) {
      CHECK((std::isnan(map.mass_least[i]) && map.limiting_joint[i] == -1 && map.limiting_joint_least[i] == -1));
      continue;
    }
    ++reached;
    differ += greatest.mass > least.mass * (1 + 1e-6);
    CHECK(map.mass_greatest[i] == Approx(greatest.mass).epsilon(1e-9));
    CHECK(map.mass_least[i] == Approx(least.mass).epsilon(1e-9));
    CHECK(map.limiting_joint[i] == greatest.joint);
  }
  CHECK(reached > 100);
  CHECK(differ > 20);
}

TEST_CASE("the load's centre counts from the tool frame, and the peak limit holds more") {
  HandArm arm;
  const auto search = search_of(loaded(arm));
  const std::vector<Vec3> stretched{{1.0999999, 0, 0}};
  // Tool x along the arm, so that a centre at x = 0.2 m hangs 1.3 m out from axis 2 and 0.7 m from axis 3.
  const std::vector<Rotation> level{no_rotation};
  const auto mass = [&](Vec3 centre, Limit limit) { return payload_map(search, stretched, level, {centre, limit}, 1, {}).mass_greatest[0]; };
  const double own_shoulder = g0 * (upper_mass * 0.3 + fore_mass * 0.85), own_elbow = g0 * fore_mass * 0.25;
  for (const double c : {0.0, 0.2}) {
    CHECK(mass({c, 0, 0}, Limit::continuous) == Approx(std::fmin((shoulder - own_shoulder) / (g0 * (1.1 + c)), (elbow - own_elbow) / (g0 * (0.5 + c)))).epsilon(1e-4));
    CHECK(mass({c, 0, 0}, Limit::peak) == Approx(std::fmin((1.5 * shoulder - own_shoulder) / (g0 * (1.1 + c)), (1.5 * elbow - own_elbow) / (g0 * (0.5 + c)))).epsilon(1e-4));
  }
}

TEST_CASE("the same bits from any number of threads") {
  const auto search = search_of(loaded(HandArm{}));
  const auto attitudes = attitudes_along(spread_directions(10), 1);
  Draw draw{2};
  std::vector<Vec3> positions;
  for (int k = 0; k < 100; ++k) positions.push_back(draw.vector(0.7));
  const PayloadMap one = payload_map(search, positions, attitudes, {}, 1, {});
  for (unsigned threads = 2; threads <= 4; ++threads) {
    const PayloadMap more = payload_map(search, positions, attitudes, {}, threads, {});
    CHECK((more.limiting_joint == one.limiting_joint && more.limiting_joint_least == one.limiting_joint_least));
    for (std::size_t i = 0; i < positions.size(); ++i) {
      CHECK((more.mass_greatest[i] == one.mass_greatest[i] || (std::isnan(more.mass_greatest[i]) && std::isnan(one.mass_greatest[i]))));
      CHECK((more.mass_least[i] == one.mass_least[i] || (std::isnan(more.mass_least[i]) && std::isnan(one.mass_least[i]))));
    }
  }
}
