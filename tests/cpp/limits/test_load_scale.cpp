// The greatest load of one bar, by hand: 10 kg with the centre at 0.5 m, from level to upright and back, by one motor through 100 : 1
// without losses; f times 5 kg are carried at 1 m.
#include "armwright/limits/scaled_torques.hpp"
#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Strength {
  double lasting = 500, peak = 500, rated = unlimited, exponent = 3;
};

Model bar(const Strength& strength) {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, -1, 0})};
  cell.arm.links.resize(1);
  cell.arm.links[0].name = "link 1";
  cell.arm.links[0].inertia = {10, {0.5, 0, 0}, 0, 0, 0, 0, 0, 0};
  DriveSpec drive;
  drive.motor.continuous = {{0, strength.lasting / 100}, {1000, strength.lasting / 100}};
  drive.motor.peak = {{0, strength.peak / 100}, {1000, strength.peak / 100}};
  StageSpec stage;
  stage.ratio = 100;
  stage.rated_torque = strength.rated;
  stage.life_exponent = strength.exponent;
  drive.stages = {stage};
  cell.arm.joints[0].drive = drive;
  return compile(cell);
}

LoadScale scale(const Strength& strength, double u) {
  const std::vector<Inertia> loads{{5, {1, 0, 0}, 0, 0, 0, 0, 0, 0}};
  return greatest_load(scaled_torques(bar(strength), loads, thirds(quarter_turn, 0.6, 0.3, 0), 0.001), u, 1e6);
}

// The mean that wears a reducer at standstill: the power of the torque over the angle, whatever the speed was, since speed times time is
// angle. Over a quarter turn of (5 + 5 f) g cos(angle): the mean of cos³ is 4/(3 pi).
double factor_by_wear(double rated) { return (rated / (g0 * std::cbrt(2 / (3 * quarter_turn))) - 5) / 5; }

}  // namespace

TEST_CASE("at standstill a reducer's mean torque is weighed by the angles gone through") {
  const LoadScale still = scale({.rated = 150}, 0);
  CHECK(still.continuous.limit == CheckLimit::stage_mean_torque);
  CHECK(still.continuous.part == 0);
  CHECK(still.continuous.at == Approx(factor_by_wear(150)).epsilon(1e-4));
  // it is what slower and slower motion comes to
  CHECK(scale({.rated = 150}, 1e-4).continuous.at == Approx(still.continuous.at).epsilon(1e-4));
  CHECK(scale({.rated = 150}, 1).continuous.at < 0.8 * still.continuous.at);
}

TEST_CASE("what the means allow is told where a peak allows less") {
  const LoadScale still = scale({.lasting = 300, .peak = 300, .rated = 290}, 0);
  CHECK(still.peak.at == Approx((300 / g0 - 5) / 5).epsilon(1e-9));  // level
  CHECK(still.peak.limit == CheckLimit::motor_peak_torque);
  CHECK(still.peak.time == 0);
  REQUIRE(factor_by_wear(290) > still.peak.at);
  CHECK(still.continuous.limit == CheckLimit::stage_mean_torque);
  CHECK(still.continuous.at == Approx(factor_by_wear(290)).epsilon(1e-4));
  CHECK(still.least().limit == CheckLimit::motor_peak_torque);
}

TEST_CASE("a motor's mean is the root mean square over the time, pauses included, which are nothing beside a motion without end") {
  // Upright nothing is held, so that the pause only dilutes. The mean of cos² over the way in thirds, by Simpson's rule.
  double sum = 0;
  const int n = 6000;
  const double third = 0.2, v = 1.5 * quarter_turn / 0.6, a = v / third;
  for (int i = 0; i <= n; ++i) {
    const double t = 0.6 * i / n, left = 0.6 - t;
    const double angle = t < third ? a * t * t / 2 : left < third ? quarter_turn - a * left * left / 2 : quarter_turn / 4 + v * (t - third);
    sum += (i == 0 || i == n ? 1 : i % 2 ? 4 : 2) * std::cos(angle) * std::cos(angle);
  }
  const double mean = sum / n / 3;
  const auto factor = [](double mean_square) { return (120 / (g0 * std::sqrt(mean_square)) - 5) / 5; };
  const LoadScale still = scale({.lasting = 120}, 0);
  CHECK(still.continuous.limit == CheckLimit::motor_continuous_torque);
  CHECK(still.continuous.at == Approx(factor(mean)).epsilon(1e-4));
  const double u = 0.02;  // inertia has a share of 0.0004 of what it has at full speed
  CHECK(scale({.lasting = 120}, u).continuous.at == Approx(factor(mean * 0.6 / u / (0.6 / u + 0.3))).epsilon(1e-3));
}

TEST_CASE("an arm that cannot hold itself carries nothing, and one that nothing limits has no answer") {
  const LoadScale weak = scale({.lasting = 40, .peak = 40}, 1);
  CHECK(weak.peak.at == 0);
  CHECK(weak.least().at == 0);
  const LoadScale strong = scale({.lasting = 1e12, .peak = 1e12}, 1);
  CHECK(strong.peak.axis == -1);
  CHECK(strong.continuous.axis == -1);
}
