#include "armwright/dynamics/forward_dynamics.hpp"

#include "armwright/dynamics/inverse_dynamics.hpp"
#include "armwright/dynamics/reflected.hpp"
#include "armwright/dynamics/world_bodies.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

using Row = std::vector<double>;

Row random_row(Draw& draw, std::size_t n, double size) {
  Row row(n);
  for (double& x : row) x = draw.uniform(-size, size);
  return row;
}

DriveSpec some_drive(Draw& draw) {
  DriveSpec drive;
  drive.motor.continuous = {{0, 1}, {300, 1}};
  drive.motor.peak = {{0, 3}, {300, 3}};
  drive.motor.rotor_inertia = draw.uniform(1e-5, 4e-4);
  for (int s = 0; s < 2; ++s) {
    StageSpec stage;
    stage.ratio = s == 0 ? -draw.uniform(2, 4) : draw.uniform(10, 40);
    stage.inertia = draw.uniform(1e-6, 1e-4);
    drive.stages.push_back(stage);
  }
  return drive;
}

CellSpec driven_cell(Draw& draw, std::size_t joints, bool coupled) {
  CellSpec cell = random_cell(draw, joints, joints % 2 == 1);
  if (joints % 3 == 0) cell.track = random_track(draw), cell.track->drive = some_drive(draw);
  for (std::size_t i = 0; i < joints; ++i)
    if (i != 1) cell.arm.joints[i].drive = some_drive(draw);
  SpringSpec spring;
  spring.point_a = {0.1, 0.2, 0.3}, spring.point_b = {0.2, 0, 0.1}, spring.rate = 800, spring.length = 0.1;
  cell.arm.springs = {spring};
  if (!coupled) return cell;
  cell.arm.coupling.assign(joints * joints, 0.0);
  for (std::size_t i = 0; i < joints; ++i)
    for (std::size_t j = 0; j <= i; ++j) cell.arm.coupling[i * joints + j] = i == j ? 1 : draw.uniform(-0.5, 0.5);
  return cell;
}

}  // namespace

TEST_CASE("forward dynamics undo inverse dynamics, with and without drives, coupled or not, alone and in a batch") {
  Draw draw{21};
  for (std::size_t joints = 1; joints <= 11; ++joints) {
    const Model model = compile(driven_cell(draw, joints, joints % 2 == 0));
    const std::size_t n = model.joint_count, rows = 6;
    const Row q = random_row(draw, rows * n, 2), v = random_row(draw, rows * n, 2), a = random_row(draw, rows * n, 3);
    for (const bool drives : {false, true}) {
      Row tau(rows * n), back(rows * n), alone(n);
      std::vector<std::int32_t> loose(rows);
      inverse_dynamics(model, model.load, q, v, a, tau, drives);
      forward_dynamics(model, model.load, drives, q, v, tau, back, loose);
      for (std::size_t i = 0; i < rows * n; ++i) CHECK(back[i] == Approx(a[i]).epsilon(1e-8).margin(1e-8));
      for (std::size_t row = 0; row < rows; ++row) {
        const auto part = [&](const Row& of) { return std::span<const double>(of).subspan(row * n, n); };
        forward_dynamics(model, model.load, drives, part(q), part(v), part(tau), alone, std::span(loose).subspan(0, 1));
        CHECK(loose[0] == -1);
        for (std::size_t i = 0; i < n; ++i) CHECK(alone[i] == back[row * n + i]);
      }
    }
  }
}

TEST_CASE("reflected inertia is twice the rotors' energy at unit speeds: each turns at ratio times its axis") {
  Draw draw{22};
  const CellSpec cell = driven_cell(draw, 5, true);
  const Model model = compile(cell);
  const Row v = random_row(draw, 5, 3);
  Row with(25), without(25), q = random_row(draw, 5, 2);
  mass_matrices(model, {}, q, with, true);
  mass_matrices(model, {}, q, without);
  double told = 0, rotors = 0;
  for (std::size_t i = 0; i < 25; ++i) told += 0.5 * v[i / 5] * (with[i] - without[i]) * v[i % 5];
  for (std::size_t k = 0; k < 5; ++k) {
    if (!cell.arm.joints[k].drive) continue;
    // q = C axis: solved here by substitution, C being lower triangular with ones.
    Row axis(5);
    for (std::size_t i = 0; i < 5; ++i) {
      axis[i] = v[i];
      for (std::size_t j = 0; j < i; ++j) axis[i] -= cell.arm.coupling[i * 5 + j] * axis[j];
    }
    double speed = axis[k];
    const DriveSpec& drive = *cell.arm.joints[k].drive;
    for (std::size_t s = drive.stages.size(); s-- > 0;) {
      speed *= drive.stages[s].ratio;
      rotors += 0.5 * drive.stages[s].inertia * speed * speed;
    }
    rotors += 0.5 * drive.motor.rotor_inertia * speed * speed;
  }
  CHECK(told == Approx(rotors).epsilon(1e-11));
}

TEST_CASE("a load of 2 kg on a cord over a drum of 0.1 m: a = m g r / (m r² + J N²) times r") {
  CellSpec cell;
  cell.arm.joints = {joint("lift", identity_pose, {0, 0, 1}, -1, 1)};
  cell.arm.joints[0].kind = JointKind::prismatic;
  cell.arm.links.resize(1);
  cell.arm.links[0].inertia = {2, {0, 0, 0}};
  DriveSpec drive;
  drive.motor.continuous = drive.motor.peak = {{0, 1}, {300, 1}};
  drive.motor.rotor_inertia = 0.003;
  StageSpec drum;
  drum.ratio = 1 / 0.1;  // rad a metre
  drive.stages = {drum};
  cell.arm.joints[0].drive = drive;
  Row a(1);
  std::vector<std::int32_t> loose(1);
  forward_dynamics(compile(cell), {}, true, Row{0}, Row{0}, Row{0}, a, loose);
  CHECK(a[0] == Approx(-2 * g0 / (2 + 0.003 / 0.01)));
}

TEST_CASE("a joint that moves no mass is told, and its row is 0") {
  const Model model = compile(positioner(0, 0.6, 0.5));
  Row a(6, 7.0);
  std::vector<std::int32_t> loose(1);
  forward_dynamics(model, {0.0}, true, Row(6, 0.1), Row(6, 0.0), Row(6, 1.0), a, loose);
  CHECK(loose[0] == 0);
  CHECK(a == Row(6, 0.0));
  CellSpec cell = positioner(0, 0.6, 0.5);
  cell.arm.links[2].inertia = {3, {0.25, 0, 0}};
  forward_dynamics(compile(cell), {}, true, Row(6, 0.1), Row(6, 0.0), Row(6, 1.0), a, loose);
  CHECK(loose[0] == 3);
}

TEST_CASE("bias torques in world axes are inverse dynamics without acceleration") {
  Draw draw{23};
  for (std::size_t joints = 1; joints <= 11; ++joints) {
    CellSpec cell = random_cell(draw, joints, joints % 2 == 1);
    if (joints % 3 == 0) cell.track = random_track(draw);
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    const Row q = random_row(draw, n, 2), v = random_row(draw, n, 2), still(n, 0.0);
    Row slow(n), fast(n);
    inverse_dynamics(model, model.load, q, v, still, slow);
    Pose frames[max_joints];
    joint_frames(model, q.data(), frames);
    WorldBodies<double> bodies;
    world_bodies(model, model.link[n - 1] + model.load, frames, bodies);
    bias_of(model, bodies, v.data(), fast.data());
    for (std::size_t i = 0; i < n; ++i) CHECK(fast[i] == Approx(slow[i]).epsilon(1e-10).margin(1e-10));
  }
}
