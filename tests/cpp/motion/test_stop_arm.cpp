#include <algorithm>

#include "armwright/dynamics/forward_dynamics.hpp"
#include "armwright/dynamics/inverse_dynamics.hpp"
#include "armwright/dynamics/reflected.hpp"
#include "armwright/motion/drive_torques.hpp"
#include "armwright/motion/stop_plant.hpp"
#include "armwright/motion/stop_run.hpp"
#include "catch_shim.hpp"
#include "motion/drive_cases.hpp"
#include "motion/stop_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

using Row = std::vector<double>;

CellSpec any_arm(Draw& draw, std::size_t joints, bool lossless, bool coupled = false) {
  CellSpec cell = random_cell(draw, joints, false);
  for (JointSpec& j : cell.arm.joints) {
    j.lower = -1e3, j.upper = 1e3;
    DriveSpec drive = random_drive(draw, 2);
    if (lossless) {
      drive.motor_friction = drive.joint_friction = {};
      for (StageSpec& stage : drive.stages) stage.efficiency = stage.efficiency_back = 1;
    } else {
      BrakeSpec brake;
      brake.torque = draw.uniform(0.5, 2), brake.delay = draw.uniform(0, 0.1);
      brake.side = draw.uniform(0, 1) < 0.5 ? BrakeSide::motor : BrakeSide::joint;
      if (brake.side == BrakeSide::joint) brake.torque *= 100;
      drive.brake = brake;
    }
    j.drive = drive;
  }
  if (coupled) {
    cell.arm.coupling.assign(joints * joints, 0.0);
    for (std::size_t i = 0; i < joints; ++i)
      for (std::size_t j = 0; j <= i; ++j) cell.arm.coupling[i * joints + j] = i == j ? draw.uniform(0.7, 1.3) : draw.uniform(-0.4, 0.4);
  }
  return cell;
}

Row random_row(Draw& draw, std::size_t n, double size) {
  Row row(n);
  for (double& x : row) x = draw.uniform(-size, size);
  return row;
}

double energy(const CellSpec& cell, const Model& model, const double* q, const double* v) {
  const std::size_t n = model.joint_count;
  Row M(n * n);
  mass_matrices(model, model.load, std::span(q, n), M, true);
  double sum = potential_energy(cell, q, true);
  for (std::size_t i = 0; i < n * n; ++i) sum += 0.5 * v[i / n] * M[i] * v[i % n];
  return sum;
}

}  // namespace

TEST_CASE("without losses energy is kept: the drift over 2 s is told, and falls with the tolerance") {
  Draw draw{31};
  const CellSpec cell = any_arm(draw, 6, true, true);
  const Model model = compile(cell);
  const Row q = random_row(draw, 6, 1), v = random_row(draw, 6, 1);
  const double before = energy(cell, model, q.data(), v.data());
  double moved = 0, drift[2];
  int i = 0;
  for (const double tolerance : {1e-6, 1e-9}) {
    StopOptions options;
    options.time_limit = 2, options.tolerance = tolerance, options.row_step = 0.02;
    const StopAnswer answer = stop(model, model.load, q, v, options);
    CHECK(answer.end == StopEnd::still_moving);
    drift[i] = 0;
    for (std::size_t r = 0; r < answer.rows.time.size(); ++r) {
      const double *at = answer.rows.q.data() + 6 * r, *speed = answer.rows.speed.data() + 6 * r;
      drift[i] = std::fmax(drift[i], std::fabs(energy(cell, model, at, speed) - before));
      moved = std::fmax(moved, std::fabs(potential_energy(cell, at, true) - potential_energy(cell, q.data(), true)));
    }
    ++i;
  }
  CHECK(moved > 20);  // J: so much goes to and fro
  CHECK(drift[0] < 1e-3 * moved);
  CHECK(drift[1] < 1e-6 * moved);
  WARN("energy drift over 2 s: " << drift[0] / moved << " and " << drift[1] / moved << " of what goes to and fro, at tolerances 1e-6 and 1e-9");
}

TEST_CASE("accelerations without power are those at which inverse dynamics through the drives ask nothing of the motors") {
  Draw draw{32};
  for (int trial = 0; trial < 200; ++trial) {
    CellSpec cell = any_arm(draw, 6, false, trial % 2 == 1);
    for (JointSpec& j : cell.arm.joints) j.drive->brake.reset();
    const Model model = compile(cell);
    const Row q = random_row(draw, 6, 2), v = random_row(draw, 6, 2);
    StopOptions options;
    StopRun run(model, model.load, q, v, options);
    run.phase = StopPhase::off;
    REQUIRE(run.settle_pattern());
    Row acceleration(6), motors(6);
    joints_of_axes(model, run.acceleration.data(), acceleration.data());
    motor_torques(model, model.load, q, v, acceleration, motors);
    for (const double torque : motors) CHECK(std::fabs(torque) < 1e-7);
  }
}

TEST_CASE("with all modes at once the answer meets every law: pinned within bounds, loose with its own sign") {
  Draw draw{33};
  int loose = 0, pinned = 0;
  for (int trial = 0; trial < 300; ++trial) {
    const CellSpec cell = any_arm(draw, 7, false);
    const Model model = compile(cell);
    Row q = random_row(draw, 7, 2), v(7, 0.0);
    for (std::size_t k = 0; k < 7; ++k)
      if (draw.uniform(0, 1) < 0.3) v[k] = draw.uniform(-1, 1);
    StopOptions options;
    StopRun run(model, model.load, q, v, options);
    run.phase = StopPhase::off;
    for (std::size_t k = 0; k < 7; ++k) run.braked[k] = draw.uniform(0, 1) < 0.5;
    REQUIRE(run.settle_pattern());
    for (std::size_t k = 0; k < 7; ++k) {
      if (v[k] != 0) continue;
      if (run.sense[k] == 0) {
        ++pinned;
        CHECK(run.acceleration[k] == 0);
        CHECK(run.held[k] >= run.least[k] - 1e-6);
        CHECK(run.held[k] <= run.greatest[k] + 1e-6);
      } else {
        ++loose;
        CHECK(run.acceleration[k] * run.sense[k] > 0);
        // Loose with friction against the way it goes: what it holds is what its drive then gives.
        const AxisLaw& law = run.law[k];
        CHECK(axis_push(run.axes[k], run.sense[k] > 0 ? law.above : law.below, run.acceleration[k]).torque == Approx(run.held[k]).epsilon(1e-8).margin(1e-6));
      }
    }
  }
  CHECK(loose > 100);
  CHECK(pinned > 100);
}

TEST_CASE("arms that are braked come to rest, with the energy that they had gone into brakes and losses") {
  Draw draw{34};
  int rested = 0;
  for (int trial = 0; trial < 60; ++trial) {
    CellSpec cell = any_arm(draw, 6, false, trial % 3 == 2);
    const bool on_track = trial % 2 == 1;
    for (JointSpec& j : cell.arm.joints) {
      // Without other losses, so that all energy goes into the brakes.
      j.drive->motor_friction = j.drive->joint_friction = {};
      for (StageSpec& stage : j.drive->stages) stage.efficiency = stage.efficiency_back = 1;
      j.drive->brake->torque = 3, j.drive->brake->side = BrakeSide::motor;
      for (StageSpec& stage : j.drive->stages) stage.ratio *= 2;
    }
    if (on_track) {
      DriveSpec drive = *cell.arm.joints[0].drive;
      drive.stages[1].ratio *= 5;
      TrackSpec track = random_track(draw);
      track.lower = -50, track.upper = 50, track.drive = drive;
      cell.track = track;
    }
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    const Row q = random_row(draw, n, 1), v = random_row(draw, n, 1);
    const StopAnswer answer = stop(model, model.load, q, v, {});
    if (answer.end != StopEnd::rest) continue;
    ++rested;
    double into_brakes = 0;
    for (std::size_t k = 0; k < n; ++k) into_brakes += answer.brake_energy[k];
    const Row still(n, 0.0);
    const double lost = energy(cell, model, q.data(), v.data()) - energy(cell, model, answer.q.data(), still.data());
    CHECK(into_brakes == Approx(lost).epsilon(1e-5));
  }
  CHECK(rested > 40);
}

TEST_CASE("a batch on threads: the same bits as one by one") {
  Draw draw{35};
  const CellSpec cell = any_arm(draw, 6, false);
  const Model model = compile(cell);
  const Row q = random_row(draw, 6 * 9, 1), v = random_row(draw, 6 * 9, 1);
  const std::vector<Inertia> loads(9, model.load);
  std::vector<StopAnswer> one, two;
  CHECK(stops(model, loads, q, v, {}, 1, {}, one));
  CHECK(stops(model, loads, q, v, {}, 2, {}, two));
  for (std::size_t row = 0; row < 9; ++row) {
    const StopAnswer alone = stop(model, model.load, std::span(q).subspan(6 * row, 6), std::span(v).subspan(6 * row, 6), {});
    CHECK(one[row].q == two[row].q);
    CHECK(one[row].q == alone.q);
    CHECK(one[row].time == alone.time);
    CHECK(one[row].tool_path == two[row].tool_path);
  }
}

TEST_CASE("a joint at the end of its range stops there, pushed on it stays, and the others go on") {
  CellSpec cell;  // a double pendulum whose elbow meets its end while it swings
  cell.arm.joints = {joint("shoulder", identity_pose, {0, -1, 0}, -10, 10), joint("elbow", at({0.5, 0, 0}), {0, -1, 0}, -0.4, 0.4)};
  cell.arm.links.resize(2);
  cell.arm.links[0].inertia = {3, {0.5, 0, 0}}, cell.arm.links[1].inertia = {2, {0.4, 0, 0}};
  for (JointSpec& j : cell.arm.joints) {
    StageSpec stage;
    stage.ratio = -20, stage.inertia = 5e-4;
    j.drive = bare_drive(1e-3);
    j.drive->stages = {stage};
  }
  StopOptions options;
  options.time_limit = 0.25, options.row_step = 0.001, options.tolerance = 1e-10;
  const Model model = compile(cell);
  const StopAnswer answer = stop(model, {}, Row{0.2, 0}, Row{0, 5}, options);
  REQUIRE(answer.impact_time[1] > 0.01);
  CHECK(answer.impact_speed[0] == 0);
  // Angular momentum about the shoulder, its rotor's as the axis feels it with it, is kept through the impact: the
  // end's push is within the arm, and the elbow's rotor feels only its own axis.
  const StopRows& rows = answer.rows;
  const auto row = static_cast<std::size_t>(answer.impact_time[1] / 0.001);
  const auto momentum = [&](std::size_t r) {
    Row M(4);
    mass_matrices(model, {}, std::span(rows.q).subspan(2 * r, 2), M, true);
    return M[0] * rows.speed[2 * r] + M[1] * rows.speed[2 * r + 1];
  };
  Row weight(2);
  const double impulse = 0.001 * g0 * (3 * 0.5 + 2 * 0.9);  // what gravity can do in between, at most
  CHECK(std::fabs(momentum(row + 1) - momentum(row)) < impulse);
  CHECK(rows.speed[2 * (row + 1) + 1] == 0);
  CHECK(rows.q[2 * (row + 1) + 1] == 0.4);
  CHECK(rows.speed[2 * (row + 1)] > rows.speed[2 * row] + 0.3);  // pulled along
  for (std::size_t r = 0; r < rows.time.size(); ++r) CHECK(rows.q[2 * r + 1] <= 0.4);
}
