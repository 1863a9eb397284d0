#include "armwright/limits/holding.hpp"

#include <numeric>

#include "armwright/dynamics/gravity.hpp"
#include "armwright/limits/holding_terms.hpp"
#include "armwright/limits/spring_bound.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

using Row = std::vector<double>;

std::vector<WorstHolding> worst(const Model& model, const Inertia& load = {}, HoldingOptions options = {}) {
  std::vector<WorstHolding> out;
  std::vector<std::size_t> axes(model.joint_count);
  std::iota(axes.begin(), axes.end(), std::size_t{0});
  CHECK(worst_holding(model, load, axes, options, 1, {}, out));
  return out;
}

CellSpec any_cell(Draw& draw, std::size_t joints) {
  CellSpec cell = random_cell(draw, joints, joints % 2 == 1);
  for (JointSpec& j : cell.arm.joints)
    if (j.kind == JointKind::revolute) j.lower = draw.uniform(-2.5, 0), j.upper = j.lower + draw.uniform(0.5, 3);
  return cell;
}

Row within(Draw& draw, const Model& model) {
  Row q(model.joint_count);
  for (std::size_t i = 0; i < q.size(); ++i) q[i] = draw.uniform(model.lower[i], model.upper[i]);
  return q;
}

}  // namespace

TEST_CASE("the slopes of held torques are differences; the bounds on second slopes hold everywhere") {
  Draw draw{41};
  for (std::size_t joints = 2; joints <= 8; ++joints) {
    CellSpec cell = any_cell(draw, joints);
    if (joints % 3 == 0) cell.track = random_track(draw);
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    const HoldingTerms terms = holding_terms(model, model.load);
    double tightest = 0;
    for (int trial = 0; trial < 40; ++trial) {
      Row q = within(draw, model), torque(n);
      HeldTorques held, up, down;
      held_torques(model, model.load, q.data(), held);
      gravity_torques(model, model.load, q, torque);
      for (std::size_t i = 0; i < n; ++i) CHECK(held.torque[i] == Approx(torque[i]).epsilon(1e-11).margin(1e-11));
      constexpr double h = 1e-5;
      for (std::size_t k = 0; k < n; ++k) {
        Row a = q, b = q;
        a[k] += h, b[k] -= h;
        held_torques(model, model.load, a.data(), up);
        held_torques(model, model.load, b.data(), down);
        for (std::size_t i = 0; i < n; ++i) CHECK(held.slope[i * n + k] == Approx((up.torque[i] - down.torque[i]) / (2 * h)).epsilon(1e-6).margin(1e-6));
        for (std::size_t i = 0; i < n; ++i)
          for (std::size_t j = 0; j < n; ++j) {
            const double second = std::fabs(up.slope[i * n + j] - down.slope[i * n + j]) / (2 * h), most = second_slope(model, terms, i, j, k);
            CHECK(second <= most * (1 + 1e-6) + 1e-5);
            if (most > 0) tightest = std::fmax(tightest, second / most);
          }
      }
    }
    CHECK(tightest > 0.2);  // and they are no idle bounds
  }
}

TEST_CASE("two links held level: the worst is all masses at their levers, by hand") {
  CellSpec cell = positioner(0.1, 0.6, 0.5);
  cell.arm.links[1].inertia = {8, {0.3, 0, 0}};
  cell.arm.links[2].inertia = {3, {0.25, 0, 0}};
  const Model model = compile(cell);
  const Inertia load{2, {0.1, 0, 0}};
  const auto answer = worst(model, load);
  const double elbow = g0 * (3 * 0.25 + 2 * 0.6), shoulder = g0 * (8 * 0.3 + 3 * 0.85 + 2 * 1.2);
  CHECK(answer[0].bound == 0);
  CHECK(answer[0].found < 1e-12);
  const double expected[2] = {shoulder, elbow};
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(answer[i + 1].found == Approx(expected[i]).epsilon(1e-4));
    CHECK(answer[i + 1].bound >= expected[i] * (1 - 1e-12));
    CHECK(answer[i + 1].bound <= expected[i] * 1.0051);
    Row q(answer[i + 1].q.begin(), answer[i + 1].q.begin() + 6), torque(6);
    gravity_torques(model, load, q, torque);
    CHECK(std::fabs(torque[i + 1]) == Approx(answer[i + 1].found).epsilon(1e-12));
  }
  // Joints that cannot come level: the worst is at the end of the range.
  cell.arm.joints[1].lower = 0.7, cell.arm.joints[1].upper = 1.2;
  cell.arm.joints[2].lower = -0.1, cell.arm.joints[2].upper = 0.1;
  const auto bent = worst(compile(cell));
  const double level = std::cos(0.7) * 8 * 0.3 + 3 * (0.6 * std::cos(0.7) + 0.25 * std::cos(0.6));
  CHECK(bent[1].found == Approx(g0 * level).epsilon(1e-4));
  CHECK(bent[1].bound <= g0 * level * 1.0051);
}

TEST_CASE("no posture of any arm exceeds the bound, and the bound is within the gap of what was found") {
  Draw draw{42};
  for (std::size_t joints = 2; joints <= 6; ++joints) {
    CellSpec cell = any_cell(draw, joints);
    if (joints == 4) cell.track = random_track(draw);
    if (joints == 6) {
      cell.arm.coupling.assign(36, 0.0);
      for (std::size_t i = 0; i < 6; ++i) cell.arm.coupling[i * 7] = 1;
      cell.arm.coupling[5 * 6 + 4] = 0.7;
    }
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    HoldingOptions options;
    options.gap = 0.02;
    const auto answer = worst(model, model.load, options);
    for (std::size_t k = 0; k < n; ++k)
      if (answer[k].boxes < options.most_boxes) CHECK(answer[k].bound <= answer[k].found * 1.0201 + 1e-6);
    for (int trial = 0; trial < 3000; ++trial) {
      const Row q = within(draw, model);
      Row torque(n);
      gravity_torques(model, model.load, q, torque);
      if (joints == 6) torque[4] += 0.7 * torque[5];
      for (std::size_t k = 0; k < n; ++k) CHECK(std::fabs(torque[k]) <= answer[k].bound * (1 + 1e-9) + 1e-9);
    }
  }
}

TEST_CASE("springs: what one joint's spring takes off is in the bound; a bar balanced everywhere holds nothing") {
  CellSpec cell;
  cell.arm.joints = {joint("axis", identity_pose, {0, -1, 0})};
  cell.arm.links.resize(1);
  cell.arm.links[0].inertia = {3, {0.4, 0, 0}};
  SpringSpec s;
  s.point_a = {0, 0, 0.25}, s.point_b = {0.2, 0, 0}, s.rate = 3 * g0 * 0.4 / (0.25 * 0.2);
  cell.arm.springs = {s};
  const auto balanced = worst(compile(cell));
  CHECK(balanced[0].springs_counted);
  CHECK(balanced[0].found < 1e-10);
  CHECK(balanced[0].bound < 1.1e-5 * 3 * g0 * 0.4);  // what is small against the arm is not split further
  // With free length, slack or not: against a fine search.
  for (const bool slack : {false, true}) {
    cell.arm.springs[0].length = 0.2, cell.arm.springs[0].pulls_only = slack;
    const Model model = compile(cell);
    const auto answer = worst(model);
    double most = 0;
    for (double q = -half_turn; q < half_turn; q += 1e-4) {
      Row torque(1);
      gravity_torques(model, {}, Row{q}, torque);
      most = std::fmax(most, std::fabs(torque[0]));
    }
    CHECK(answer[0].bound >= most);
    CHECK(answer[0].bound <= most * 1.006);
    CHECK(answer[0].found == Approx(most).epsilon(1e-4));
  }
}

TEST_CASE("what one spring gives lies within its intervals, its slopes are differences") {
  Draw draw{43};
  for (int trial = 0; trial < 200; ++trial) {
    CellSpec cell = any_cell(draw, 3);
    cell.arm.joints[1].kind = JointKind::revolute, cell.arm.joints[1].lower = -3, cell.arm.joints[1].upper = 3;
    SpringSpec s;
    s.link_a = trial % 2 ? 0 : 1, s.link_b = 1 - s.link_a, s.point_a = draw.vector(0.4), s.point_b = draw.vector(0.4);
    s.length = draw.uniform(0.1, 0.6), s.pull = draw.uniform(-200, 500), s.rate = draw.uniform(0, 3000), s.pulls_only = trial % 3 == 0;
    cell.arm.springs = {s};
    const Model model = compile(cell);
    REQUIRE(only_joint_of(model, model.springs[0]) == 1);
    const SpringAtJoint spring = spring_at_joint(model, model.springs[0], 1);
    const double angle = draw.uniform(-3, 3), half = draw.uniform(0.001, 1);
    const SpringRange range = spring_range(spring, angle, half);
    const auto given = [&](double q) {
      Pose frames[max_joints];
      joint_frames(model, Row{0.3, q, 0.1}.data(), frames);
      double torque[3] = {0, 0, 0};
      subtract_springs(model, frames, torque);
      return -torque[1];
    };
    CHECK(range.value == Approx(given(angle)).epsilon(1e-9).margin(1e-9));
    if (std::isfinite(range.bend)) CHECK(range.slope == Approx((given(angle + 1e-5) - given(angle - 1e-5)) / 2e-5).epsilon(1e-5).margin(1e-3));
    for (int i = 0; i <= 20; ++i) {
      const double x = half * (i / 10.0 - 1), value = given(angle + x);
      CHECK(value >= range.least - 1e-7);
      CHECK(value <= range.greatest + 1e-7);
      if (std::isfinite(range.bend)) CHECK(std::fabs(value - range.value - range.slope * x) <= 0.5 * range.bend * x * x + 1e-7);
    }
    CHECK(std::fabs(given(angle)) <= spring_most(model, model.springs[0], 1));
  }
}

TEST_CASE("springs over several joints are bounded apart, and that is told") {
  Draw draw{44};
  CellSpec cell = any_cell(draw, 4);
  SpringSpec s;
  s.link_a = -1, s.link_b = 2, s.point_a = {0.1, 0.2, 0.3}, s.point_b = {0, 0.1, 0.2}, s.rate = 300, s.length = 0.2;
  cell.arm.springs = {s};
  const Model model = compile(cell);
  const auto answer = worst(model, model.load);
  CHECK_FALSE(answer[0].springs_counted);
  CHECK_FALSE(answer[2].springs_counted);
  CHECK(answer[3].springs_counted);
  for (int trial = 0; trial < 2000; ++trial) {
    const Row q = within(draw, model);
    Row torque(4);
    gravity_torques(model, model.load, q, torque);
    for (std::size_t k = 0; k < 4; ++k) CHECK(std::fabs(torque[k]) <= answer[k].bound);
  }
}

TEST_CASE("brakes at the axis: by ratio, and what driving back adds") {
  CellSpec cell;
  cell.arm.joints = {joint("axis", identity_pose, {0, -1, 0})};
  cell.arm.links.resize(1);
  CHECK_FALSE(brake_hold(compile(cell), 0).present);
  DriveSpec drive;
  drive.motor.continuous = drive.motor.peak = {{0, 1}, {300, 1}};
  StageSpec stage;
  stage.ratio = -40, stage.efficiency_back = 0.8;
  drive.stages = {stage};
  BrakeSpec brake;
  brake.torque = 1.5;
  drive.brake = brake;
  cell.arm.joints[0].drive = drive;
  CHECK(brake_hold(compile(cell), 0).by_ratio == Approx(60));
  CHECK(brake_hold(compile(cell), 0).driven_back == Approx(75));
  cell.arm.joints[0].drive->brake->side = BrakeSide::joint;
  CHECK(brake_hold(compile(cell), 0).by_ratio == Approx(1.5));
}
