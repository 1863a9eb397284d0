#include "armwright/motion/time_optimal.hpp"

#include <cmath>

#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

double time_of(const CellSpec& cell, std::vector<double> from, std::vector<double> to, int intervals = 400) {
  const Model model = compile(cell);
  const CycleSpec cycle = cycle_of(std::move(from), {to_joints(std::move(to))});
  const CyclePlan plan = plan_cycle(model, nullptr, cycle, {{intervals, 32}});
  REQUIRE(plan.refusal.good());
  CHECK(greatest_use(model, cycle, plan.motion) < 1 + 1e-8);
  return duration_of(plan);
}

}  // namespace

TEST_CASE("speed and acceleration alone: the trapezoid's time") {
  CellSpec cell = bar(2, 0, false);
  set_limits(cell, 1, 2);
  CHECK(time_of(cell, {0}, {1}) == Approx(1.5).epsilon(1e-4));
  CHECK(time_of(cell, {0}, {0.3}) == Approx(2 * std::sqrt(0.15)).epsilon(1e-4));
  CHECK(time_of(cell, {0}, {-0.3}) >= 2 * std::sqrt(0.15) * (1 - 1e-9));  // never under the limit
}

TEST_CASE("one torque, one inertia: 2 sqrt(d I / T)") {
  CellSpec cell = bar(2, 0, false);
  set_limits(cell, 100, open_limit);
  cell.arm.joints[0].torque_continuous = cell.arm.joints[0].torque_peak = 5;
  CHECK(time_of(cell, {0}, {1}) == Approx(2 * std::sqrt(1 * 2 / 5.0)).epsilon(1e-4));
}

// Closed form: while the motor drives, T = I a / (N eta) + J N a; while the axis drives, T = I a eta_back / N + J N a. Then
// v² = 2 d a1 a2 / (a1 + a2), and the time is v / a1 + v / a2.
TEST_CASE("efficiency by direction and reflected inertia: fast up, faster down") {
  CellSpec cell = bar(2, 0, false);
  set_limits(cell, 100, open_limit);
  DriveSpec drive;
  drive.motor.continuous = {{0, 1}, {1000, 1}};
  drive.motor.peak = {{0, 3}, {1000, 3}};
  drive.motor.rotor_inertia = 1e-4;
  StageSpec stage;
  stage.ratio = 50, stage.efficiency = 0.8, stage.efficiency_back = 0.6, stage.inertia = 0.5e-4;
  drive.stages = {stage};
  cell.arm.joints[0].drive = drive;
  const double N = 50, J = 1.5e-4, I = 2, T = 3;
  const double a1 = T / (I / (N * 0.8) + J * N), a2 = T / (I * 0.6 / N + J * N), v = std::sqrt(2 * 1.2 * a1 * a2 / (a1 + a2));
  CHECK(time_of(cell, {0}, {1.2}) == Approx(v / a1 + v / a2).epsilon(2e-3));
  CHECK(time_of(cell, {0}, {1.2}, 3000) == Approx(v / a1 + v / a2).epsilon(6e-4));
  CHECK(time_of(cell, {1.2}, {0}) == Approx(v / a1 + v / a2).epsilon(2e-3));
  cell.arm.joints[0].drive->stages[0].ratio = -50;
  CHECK(time_of(cell, {0}, {1.2}) == Approx(v / a1 + v / a2).epsilon(2e-3));
}

// A torque that falls straight to nothing at the greatest speed: I dw/dt = T (1 − w/w0), so that w = w0 (1 − e^(−t/k)), k = I w0 / T.
TEST_CASE("along the torque–speed curve: exponential rise") {
  CellSpec cell = bar(2, 0, false);
  DriveSpec drive;
  drive.motor.continuous = {{0, 0.5}, {10, 0}};
  drive.motor.peak = {{0, 4}, {10, 0}};
  cell.arm.joints[0].drive = drive;
  set_limits(cell, open_limit, open_limit);
  const Model model = compile(cell);
  const CycleSpec cycle = cycle_of({0}, {to_joints({30})});
  const CyclePlan plan = plan_cycle(model, nullptr, cycle, {{2000, 32}});
  REQUIRE(plan.refusal.good());
  CHECK(greatest_use(model, cycle, plan.motion) < 1 + 1e-8);
  const double k = 2 * 10 / 4.0;
  const TimedMotion& m = plan.motion;
  for (std::size_t row = 0; row < m.time.size() && m.q[row] < 12; row += 50)
    CHECK(m.speed[row] == Approx(10 * (1 - std::exp(-m.time[row] / k))).epsilon(5e-3).margin(1e-3));
}

// A pendulum's drive that just lifts: energy. From hanging to level with torque T: T phi − m g l sin(phi) is the energy of motion.
TEST_CASE("against gravity, energy adds up") {
  CellSpec cell = bar(0.5, 0.6, true);
  set_limits(cell, open_limit, open_limit);
  cell.arm.joints[0].torque_continuous = cell.arm.joints[0].torque_peak = 9;
  const Model model = compile(cell);
  const CycleSpec cycle = cycle_of({-quarter_turn}, {to_joints({quarter_turn})});
  const CyclePlan plan = plan_cycle(model, nullptr, cycle, {{2000, 32}});
  REQUIRE(plan.refusal.good());
  const TimedMotion& m = plan.motion;
  for (std::size_t row = 0; row < m.time.size() && m.acceleration[row] > 0; row += 100) {
    const double lifted = 0.6 * g0 * (1 + std::sin(m.q[row]));
    CHECK(0.25 * m.speed[row] * m.speed[row] == Approx(9 * (m.q[row] + quarter_turn) - lifted).epsilon(2e-3).margin(1e-4));
  }
}

TEST_CASE("no limit that bounds: told; an arm that cannot hold itself: told with axis and by how much") {
  CellSpec cell = bar(0.5, 2, true);
  Model model = compile(cell);
  CyclePlan plan = plan_cycle(model, nullptr, cycle_of({0}, {to_joints({1})}));
  CHECK(plan.refusal.problem == PlanProblem::no_limit);
  cell.arm.joints[0].torque_continuous = cell.arm.joints[0].torque_peak = g0;  // holds half of m g l at level
  model = compile(cell);
  plan = plan_cycle(model, nullptr, cycle_of({-quarter_turn}, {to_joints({0.0})}));
  CHECK(plan.refusal.problem == PlanProblem::cannot_stand);
  CHECK(plan.refusal.axis == 0);
  CHECK(plan.refusal.move == 0);
  CHECK(plan.refusal.limit == MotionLimit::motor_torque);
  CHECK(plan.refusal.value > 1);
  CHECK(plan.refusal.value <= 2);
}
