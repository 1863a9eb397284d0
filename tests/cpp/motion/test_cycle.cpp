#include "armwright/motion/cycle.hpp"

#include <cmath>

#include "armwright/motion/profile_jerk.hpp"
#include "armwright/motion/profile_trapezoid.hpp"
#include "armwright/motion/sample.hpp"
#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

CellSpec driven_cell(Draw& draw, std::size_t joints, bool track) {
  CellSpec cell = random_cell(draw, joints, joints % 2 == 1);
  if (track) cell.track = random_track(draw);
  set_limits(cell, 3, 30, 400);
  for (JointSpec& j : cell.arm.joints) {
    DriveSpec drive = random_drive(draw, 2);
    for (StageSpec& stage : drive.stages) stage.ratio *= 1.6, stage.rated_torque = 900, stage.repeated_peak_torque = stage.momentary_peak_torque = 2000;
    for (CurvePoint& p : drive.motor.continuous) p.torque *= 3;
    for (CurvePoint& p : drive.motor.peak) p.torque *= 3;
    j.drive = drive;
  }
  if (joints % 2 == 0) {  // the second axis turns the first joint along
    cell.arm.coupling.assign(joints * joints, 0.0);
    for (std::size_t i = 0; i < joints; ++i) cell.arm.coupling[i * joints + i] = 1;
    cell.arm.coupling[1] = 0.3;
  }
  return cell;
}

std::vector<double> random_posture(Draw& draw, const Model& model) {
  std::vector<double> q(model.joint_count);
  for (std::size_t i = 0; i < q.size(); ++i) q[i] = draw.uniform(0.8 * model.lower[i], 0.8 * model.upper[i]);
  return q;
}

// Speeds are the slopes of positions, accelerations those of speeds, between rows.
void check_consistent(const TimedMotion& m) {
  const std::size_t n = m.joint_count;
  for (std::size_t row = 0; row + 1 < m.time.size(); ++row) {
    const double h = m.time[row + 1] - m.time[row];
    REQUIRE(h >= 0);
    CAPTURE(row, m.time[row], m.move[row], m.limit[row]);
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t a = row * n + i, b = a + n;
      const double way = 0.5 * h * (m.speed[a] + m.speed[b]) + h * h / 12 * (m.acceleration[a] - m.acceleration[b]);
      CHECK(m.q[b] - m.q[a] == Approx(way).epsilon(1e-3).margin(2e-6));
      CHECK(m.speed[b] - m.speed[a] == Approx(0.5 * h * (m.acceleration[a] + m.acceleration[b])).epsilon(0.1).margin(5e-3));
    }
  }
}

}  // namespace

TEST_CASE("random arms with drives: no limit is passed at any row, whatever the timing; rows agree with one another") {
  Draw draw{21};
  int planned = 0;
  for (int k = 0; k < 24; ++k) {
    const Model model = compile(driven_cell(draw, 2 + static_cast<std::size_t>(k % 5), k % 3 == 0));
    CycleSpec cycle = cycle_of(random_posture(draw, model), {});
    for (int move = 0; move < 3; ++move) {
      cycle.moves.push_back(to_joints(random_posture(draw, model)));
      if (k % 2 == 0) cycle.moves.back().blend = 0.05;
    }
    const CyclePlan plan = plan_cycle(model, nullptr, cycle);
    if (!plan.refusal.good()) {
      CHECK((plan.refusal.problem == PlanProblem::cannot_stand || plan.refusal.problem == PlanProblem::cannot_move));
      CHECK(plan.refusal.axis >= 0);
      CHECK(plan.refusal.value > 0);
      continue;
    }
    ++planned;
    CHECK(greatest_use(model, cycle, plan.motion) < 1 + 1e-7);
    check_consistent(plan.motion);
    for (std::size_t row = 0; row < plan.motion.time.size(); ++row) CHECK(plan.motion.limit[row] != 0);
  }
  CHECK(planned > 12);
}

TEST_CASE("joint moves with profiles: closed forms, in step, no overshoot") {
  CellSpec cell = positioner(0.1, 0.5, 0.4);
  set_limits(cell, 1, 2, 10);
  const Model model = compile(cell);
  const std::vector<double> from{0, 0, 0, 0, 0, 0}, to{1, -0.5, 0.2, 0, 0.1, -0.9};
  for (const Timing timing : {Timing::trapezoidal, Timing::jerk_limited}) {
    MoveSpec move = to_joints(to);
    move.timing = timing;
    CyclePlan plan = plan_cycle(model, nullptr, cycle_of(from, {move}));
    REQUIRE(plan.refusal.good());
    const Profile p = timing == Timing::trapezoidal ? trapezoid(1, 1, 2) : double_s(1, 1, 2, 10);
    CHECK(duration_of(plan) == Approx(p.duration()).epsilon(1e-12));
    for (std::size_t row = 0; row < plan.motion.time.size(); ++row) {
      const double share = state_at(p, plan.motion.time[row]).position;
      for (std::size_t i = 0; i < 6; ++i) CHECK(plan.motion.q[row * 6 + i] == Approx(share * to[i]).margin(1e-12));
    }
    move.duration = 4;
    plan = plan_cycle(model, nullptr, cycle_of(from, {move}));
    CHECK(duration_of(plan) == Approx(4).epsilon(1e-12));
    CHECK(plan.motion.limit[3] == static_cast<std::int32_t>(MotionLimit::duration));
    move.duration = 1;
    plan = plan_cycle(model, nullptr, cycle_of(from, {move}));
    CHECK(plan.refusal.problem == PlanProblem::duration);
    CHECK(plan.refusal.value == Approx(p.duration()));
    CHECK(plan.refusal.axis == 0);
    move.duration = 0, move.speed_share = 0.5;  // half of everything in time: speed 1/2, acceleration 1/4, jerk 1/8
    plan = plan_cycle(model, nullptr, cycle_of(from, {move}));
    CHECK(duration_of(plan) == Approx(2 * p.duration()).epsilon(1e-12));
  }
}

TEST_CASE("twice every speed, four times every acceleration: half the time") {
  Draw draw{5};
  CellSpec cell = random_cell(draw, 5);
  set_limits(cell, 1, 3);
  Model model = compile(cell);
  CycleSpec cycle = cycle_of(random_posture(draw, model), {to_joints(random_posture(draw, model)), to_joints(random_posture(draw, model))});
  cycle.moves[0].blend = 0.1;
  const double slow = duration_of(plan_cycle(model, nullptr, cycle));
  set_limits(cell, 2, 12);
  model = compile(cell);
  CHECK(duration_of(plan_cycle(model, nullptr, cycle)) == Approx(0.5 * slow).epsilon(1e-9));
}

TEST_CASE("the track before the arm: two motions with a stop between") {
  Draw draw{6};
  CellSpec cell = random_cell(draw, 3);
  cell.track = random_track(draw);
  set_limits(cell, 1, 2);
  const Model model = compile(cell);
  MoveSpec move = to_joints({1.0, 0.4, 0, -0.5});
  move.track_order = TrackOrder::before_arm;
  const CyclePlan plan = plan_cycle(model, nullptr, cycle_of({0, 0, 0, 0}, {move}));
  CHECK(duration_of(plan) == Approx(1.5 + 1.0).epsilon(1e-3));  // 1 m; then 0.5 rad, triangular: 2 sqrt(0.5 / 2)
  const TimedMotion& m = plan.motion;
  for (std::size_t row = 0; row < m.time.size(); ++row) {
    if (m.time[row] < 1.49) CHECK(m.q[row * 4 + 3] == 0);
    if (m.time[row] > 1.52) CHECK(m.q[row * 4] == 1.0);
  }
}

TEST_CASE("dwells, periods and cycles that do not close") {
  CellSpec cell = bar(1, 0, false);
  set_limits(cell, 1, 2);
  const Model model = compile(cell);
  MoveSpec wait;
  wait.kind = MoveKind::dwell, wait.duration = 0.5;
  CycleSpec cycle = cycle_of({0}, {to_joints({1}), wait, to_joints({0.0})});
  for (MoveSpec& move : cycle.moves) move.timing = Timing::trapezoidal;
  CyclePlan plan = plan_cycle(model, nullptr, cycle);
  CHECK(duration_of(plan) == Approx(3.5));
  CHECK(plan.move_start[1] == Approx(1.5));
  CHECK(plan.move_end[1] == Approx(2));
  cycle.period = 5;
  plan = plan_cycle(model, nullptr, cycle);
  CHECK(duration_of(plan) == Approx(5));
  cycle.period = 3.2;
  plan = plan_cycle(model, nullptr, cycle);
  CHECK(plan.refusal.problem == PlanProblem::period);
  CHECK(plan.refusal.value - plan.refusal.allowed == Approx(0.3));
  cycle.moves.pop_back();
  plan = plan_cycle(model, nullptr, cycle);
  CHECK(plan.refusal.problem == PlanProblem::not_closed);
  CHECK(plan.refusal.value == Approx(1));
  cycle.moves[0].q[0] = 51;
  plan = plan_cycle(model, nullptr, cycle);
  CHECK(plan.refusal.problem == PlanProblem::joint_range);
  CHECK(plan.refusal.move == 0);
  CHECK(plan.refusal.axis == 0);
  CHECK(plan.refusal.value == Approx(1));
  cycle.moves = {to_joints({1}), to_joints({2})};
  cycle.moves[0].blend = 0.1, cycle.moves[1].timing = Timing::trapezoidal;
  CHECK(plan_cycle(model, nullptr, cycle).refusal.problem == PlanProblem::mixed_timing);
}

TEST_CASE("resampled: exact where the acceleration is linear, at the rate asked for, and at the end") {
  CellSpec cell = bar(1, 0, false);
  set_limits(cell, 1, 2, 10);
  const Model model = compile(cell);
  MoveSpec move = to_joints({1});
  move.timing = Timing::jerk_limited;
  const CyclePlan plan = plan_cycle(model, nullptr, cycle_of({0}, {move}));
  const TimedMotion even = sample_motion(plan.motion, 250);
  const Profile p = double_s(1, 1, 2, 10);
  CHECK(even.time.size() == 426);  // 1.7 s
  for (std::size_t row = 0; row < even.time.size(); ++row) {
    CHECK(even.time[row] == Approx(std::min(1.7, static_cast<double>(row) / 250)));
    const ProfileState state = state_at(p, even.time[row]);
    CHECK(even.q[row] == Approx(state.position).margin(1e-12));
    CHECK(even.speed[row] == Approx(state.speed).margin(1e-10));
    CHECK(even.acceleration[row] == Approx(state.acceleration).margin(1e-8));
  }
}
