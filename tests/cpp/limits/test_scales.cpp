#include <algorithm>

#include "armwright/limits/cycle_means.hpp"
#include "armwright/limits/slowing.hpp"
#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double step = 0.01;

// The worst share of the limits that scale with load and speed, straight from a drive check.
const Share& worst(const DriveCheck& check) { return check.shares[static_cast<std::size_t>(check.weakest)]; }

DriveCheck checked(const Model& model, std::vector<Inertia> loads, const TimedMotion& motion, double load_factor, double u) {
  for (Inertia& load : loads) load = times(load_factor, load);
  const TimedMotion faster = run_faster(motion, u);
  return drive_check(model, driven_motion(model, loads, faster, step / u), {}, true);
}

}  // namespace

TEST_CASE("torques split by weight, inertia and load add up to the motion's own at any speed and load") {
  Draw draw{21};
  const Model model = driven_arm(draw, 5);
  const std::vector<Inertia> loads{draw.body()};
  const TimedMotion motion = swinging(draw, 5, 2, 0);
  const ScaledTorques torques = scaled_torques(model, loads, motion, step);
  const double u = 1.7, f = 0.6;
  std::vector<Inertia> part{times(f, loads[0])};
  const DrivenMotion driven = driven_motion(model, part, run_faster(motion, u), step / u);
  REQUIRE(driven.motion.rows() == torques.motion.rows());
  for (std::size_t r = 0; r < driven.motion.rows(); r += 7)
    for (std::size_t k = 0; k < 5; ++k)
      CHECK(state_at(torques.drives[k], over_load(torques, r, k, u), f).motor_torque == Approx(driven.motor_torque[r * 5 + k]).epsilon(1e-8).margin(1e-8));
  CHECK(scaled_duration(torques.motion, u) == Approx(2 / u + 0.2));
}

TEST_CASE("the greatest load is at the limit in a drive check, and more is past it") {
  Draw draw{22};
  int by_mean = 0, by_peak = 0;
  for (int i = 0; i < 24; ++i) {
    const std::size_t joints = 2 + static_cast<std::size_t>(i % 4);
    const Model model = driven_arm(draw, joints, 1.5 + 0.5 * (i % 3), i % 2 == 0);
    const std::vector<Inertia> loads{draw.body()};
    const TimedMotion motion = swinging(draw, joints, 1.2 + 0.6 * (i % 5), 0, 0.3);
    const Violation v = greatest_load(scaled_torques(model, loads, motion, step), 1, 1e6).least();
    if (v.at == 0) {
      CHECK(worst(checked(model, loads, motion, 0, 1)).share > 1 - 1e-9);
      continue;
    }
    const DriveCheck at = checked(model, loads, motion, v.at, 1), past = checked(model, loads, motion, v.at * 1.001, 1);
    CHECK(worst(at).share == Approx(1).epsilon(1e-7));
    CHECK(worst(at).axis == v.axis);
    CHECK(worst(at).part == v.part);
    CHECK(worst(at).limit == v.limit);
    CHECK(worst(past).share > 1);
    (std::isnan(v.time) ? by_mean : by_peak)++;
  }
  CHECK(by_mean > 2);
  CHECK(by_peak > 2);
}

TEST_CASE("the greatest speed is at the limit in a drive check, and faster is past it") {
  Draw draw{23};
  int by_mean = 0, by_peak = 0;
  for (int i = 0; i < 24; ++i) {
    const std::size_t joints = 2 + static_cast<std::size_t>(i % 4);
    const Model model = driven_arm(draw, joints, 1.5 + 0.5 * (i % 3), i % 2 == 0);
    const std::vector<Inertia> loads{times(0.3, draw.body())};
    const TimedMotion motion = swinging(draw, joints, 2, 0, 0.3);
    const Violation v = greatest_speed_factor(model, scaled_torques(model, loads, motion, step), 100);
    REQUIRE(v.axis >= 0);
    if (v.at < 0.05) continue;  // cannot hold itself
    const DriveCheck at = checked(model, loads, motion, 1, v.at), past = checked(model, loads, motion, 1, v.at * 1.001), below = checked(model, loads, motion, 1, v.at * 0.7);
    CHECK(worst(at).share == Approx(1).epsilon(1e-7));
    CHECK(worst(at).limit == v.limit);
    CHECK(worst(at).axis == v.axis);
    CHECK(worst(past).share > 1);
    CHECK(worst(below).share < 1);
    (std::isnan(v.time) ? by_mean : by_peak)++;
  }
  CHECK(by_mean > 2);
  CHECK(by_peak > 2);
}

TEST_CASE("payload against slowing: each point is at its limit; the same for any number of threads") {
  Draw draw{24};
  const Model model = driven_arm(draw, 3, 2);
  const std::vector<Inertia> loads{draw.body()};
  const TimedMotion motion = swinging(draw, 3, 1.5, 0, 0.3);
  const ScaledTorques torques = scaled_torques(model, loads, motion, step);
  const std::vector<double> slowing{0.5, 0.8, 1, 1.5, 2, 4, 10, 100, unlimited};
  const SlowedLoads one = payload_against_slowing(model, torques, slowing, 1e6, 1, {}), two = payload_against_slowing(model, torques, slowing, 1e6, 2, {});
  for (std::size_t i = 0; i < slowing.size(); ++i) {
    CHECK(one.points[i].least.at == two.points[i].least.at);
    CHECK(one.points[i].peak == two.points[i].peak);
    const double f = one.points[i].least.at;
    if (f > 0 && i + 1 < slowing.size()) {
      const Share s = worst(checked(model, loads, motion, f, 1 / slowing[i]));
      CHECK(s.share == Approx(1).epsilon(1e-7));
      CHECK(s.limit == one.points[i].least.limit);
    }
  }
  CHECK(one.points[7].peak == Approx(one.points[8].peak).epsilon(2e-3));  // a hundred times as slow is nearly standstill
  CHECK(one.points[8].peak > one.points[2].peak);
}

// A bar of 10 kg with its centre at 0.5 m swings upright and level by one motor of 100 : 1 without losses; 5 kg at 1 m is carried.
TEST_CASE("load and speed of a single swing, by hand") {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, -1, 0})};
  cell.arm.links.resize(1);
  cell.arm.links[0].name = "link 1";
  cell.arm.links[0].inertia = {10, {0.5, 0, 0}, 0, 0, 0, 0, 0, 0};
  DriveSpec drive;
  drive.motor.continuous = {{0, 5}, {1000, 5}};
  drive.motor.peak = {{0, 5}, {1000, 5}};
  StageSpec stage;
  stage.ratio = 100;
  drive.stages = {stage};
  cell.arm.joints[0].drive = drive;
  const Model model = compile(cell);
  const std::vector<Inertia> loads{{5, {1, 0, 0}, 0, 0, 0, 0, 0, 0}};
  const double a = 19.6349541;  // starts level, up: torque at the start (10·0.5 + 5 f) g + (10·0.25 + 5 f) a
  const ScaledTorques torques = scaled_torques(model, loads, thirds(quarter_turn, 0.6, 0.6, 0), 0.005);
  const LoadScale scale = greatest_load(torques, 1, 1e6);
  CHECK(scale.peak.at == Approx((500 - 5 * g0 - 2.5 * a) / (5 * g0 + 5 * a)).epsilon(1e-6));
  CHECK(scale.peak.time == 0);
  const Violation faster = greatest_speed_factor(model, torques, 100);
  const double at_start = std::sqrt((500 - 10 * g0) / (7.5 * a));
  CHECK(faster.at <= at_start * (1 + 1e-9));
  CHECK(first_violation(torques.drives[0], over_speed(torques, 0, 0), 100).at == Approx(at_start).epsilon(1e-9));
}
