#include "armwright/kinematics/inverse/arm_inverse.hpp"

#include <algorithm>

#include "armwright/kinematics/joint_range.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// Whether every answer brings the tool there, and whether one is the posture itself up to whole turns.
bool check_answers(const CellSpec& cell, const ArmSolutions& found, const Pose& target, const std::vector<double>& q) {
  bool itself = false;
  for (std::size_t k = 0; k < static_cast<std::size_t>(found.count); ++k) {
    const auto& answer = found.solution[k].q;
    CHECK(furthest(slow_frames(cell, answer.data()).tool, target) < 2e-9);
    double most = 0;
    for (std::size_t i = 0; i < q.size(); ++i) {
      const double off = answer[i] - q[i], turns = cell.track && i == 0 ? 0 : std::nearbyint(off / (2 * half_turn));
      most = std::fmax(most, std::fabs(off - 2 * half_turn * turns));
    }
    itself = itself || most < 1e-5;
  }
  return itself;
}

std::vector<double> posture(Draw& draw, const Model& model) {
  std::vector<double> q(model.joint_count);
  for (std::size_t i = 0; i < q.size(); ++i) q[i] = draw.uniform(model.lower[i], model.upper[i]);
  return q;
}

}  // namespace

TEST_CASE("track and six joints: the posture is found again with the track held where it was") {
  Draw draw{1};
  CellSpec cell = positioner(0.08, 0.5, 0.45);
  cell.mount = draw.pose(1), cell.track = random_track(draw), cell.tool.tool_point = draw.pose(0.2);
  const Model model = compile(cell);
  const ArmInverse inverse = prepare_arm_inverse(model);
  CHECK(inverse.redundant == std::vector<std::size_t>{0});
  CHECK(inverse.base_only);
  CHECK(most_solutions(inverse) == 8);
  int lost = 0;
  for (int k = 0; k < 500; ++k) {
    const auto q = posture(draw, model);
    const Pose target = slow_frames(cell, q.data()).tool;
    ArmSolutions found;
    solve_arm(inverse, hold(inverse, {q.data(), 1}), target, found);
    CHECK(found.count <= 8);
    for (int i = 0; i < found.count; ++i) CHECK(found.solution[static_cast<std::size_t>(i)].q[0] == q[0]);
    lost += !check_answers(cell, found, target, q);
  }
  CHECK(lost == 0);
}

TEST_CASE("seven turning joints: one is picked, and holding it where it was finds the posture again") {
  Draw draw{2};
  // Shoulder and wrist each of three crossing axes, an elbow between.
  CellSpec cell;
  const Vec3 y{0, 1, 0}, z{0, 0, 1};
  cell.arm.joints = {joint("1", at({0, 0, 0.3}), z), joint("2", identity_pose, y), joint("3", identity_pose, z), joint("4", at({0.06, 0, 0.4}), y),
                     joint("5", at({-0.06, 0, 0.38}), z), joint("6", identity_pose, y), joint("7", at({0, 0, 0.1}), z)};
  cell.arm.links.resize(7);
  cell.arm.flange = draw.pose(0.1);
  const Model model = compile(cell);
  const ArmInverse inverse = prepare_arm_inverse(model);
  REQUIRE(inverse.redundant.size() == 1);
  REQUIRE(inverse.solved.size() == 6);
  int lost = 0;
  for (int k = 0; k < 200; ++k) {
    const auto q = posture(draw, model);
    const Pose target = slow_frames(cell, q.data()).tool;
    ArmSolutions found;
    solve_arm(inverse, hold(inverse, {q.data() + inverse.redundant[0], 1}), target, found);
    lost += !check_answers(cell, found, target, q);
  }
  CHECK(lost == 0);
}

TEST_CASE("a track that is to be given is given once, however many joints there are") {
  Draw draw{3};
  for (std::size_t joints = 2; joints <= 9; ++joints) {
    CellSpec cell = random_cell(draw, joints);
    cell.track = random_track(draw);
    const ArmInverse inverse = prepare_arm_inverse(compile(cell), true);
    std::vector<std::size_t> once = inverse.redundant;
    once.erase(std::unique(once.begin(), once.end()), once.end());
    CHECK(once == inverse.redundant);
    REQUIRE_FALSE(inverse.redundant.empty());
    CHECK(inverse.redundant.front() == 0);
    CHECK(inverse.redundant.size() + inverse.solved.size() == joints + 1);
  }
}

TEST_CASE("answers stand within the range where whole turns allow, next to its middle") {
  CellSpec cell = positioner(0.08, 0.5, 0.45);
  cell.arm.joints[0].lower = 4, cell.arm.joints[0].upper = 4 + 2 * half_turn;  // the range lies beyond half a turn
  cell.arm.joints[3].lower = -11, cell.arm.joints[3].upper = 11;                // nearly four turns
  cell.arm.joints[5].lower = -unlimited, cell.arm.joints[5].upper = unlimited;
  const Model model = compile(cell);
  const ArmInverse inverse = prepare_arm_inverse(model);
  Draw draw{3};
  for (int k = 0; k < 200; ++k) {
    std::vector<double> q(6);
    for (double& x : q) x = draw.uniform(-half_turn, half_turn);
    ArmSolutions found;
    solve_arm(inverse, hold(inverse, {}), slow_frames(cell, q.data()).tool, found);
    REQUIRE(found.count > 0);
    for (std::size_t i = 0; i < static_cast<std::size_t>(found.count); ++i) {
      const auto& answer = found.solution[i].q;
      CHECK(limit_margin(model, answer.data()) >= 0);
      CHECK(std::fabs(answer[3]) <= half_turn * (1 + 1e-12));
    }
  }
}

TEST_CASE("a range that the angle is outside of by any number of turns leaves the nearest one past its limit") {
  CellSpec cell = positioner(0, 0.5, 0.45);
  for (auto& j : cell.arm.joints) j.lower = -half_turn, j.upper = half_turn;
  cell.arm.joints[0].lower = 1, cell.arm.joints[0].upper = 2;
  const Model model = compile(cell);
  const ArmInverse inverse = prepare_arm_inverse(model);
  const std::vector<double> q{2.5, 0.4, 0.9, 0.3, 0.5, 0.2};
  ArmSolutions found;
  solve_arm(inverse, hold(inverse, {}), slow_frames(cell, q.data()).tool, found);
  bool there = false;
  for (std::size_t i = 0; i < static_cast<std::size_t>(found.count); ++i) there = there || std::fabs(found.solution[i].q[0] - 2.5) < 1e-9;
  CHECK(there);
}

TEST_CASE("a posture exactly at a limit is found again, within its limits") {
  Draw draw{4};
  CellSpec cell = positioner(0.08, 0.5, 0.45);
  for (auto& j : cell.arm.joints) j.lower = -2, j.upper = 2;
  const Model model = compile(cell);
  const ArmInverse inverse = prepare_arm_inverse(model);
  int lost = 0;
  for (int k = 0; k < 300; ++k) {
    std::vector<double> q(6);
    for (double& x : q) x = draw.uniform(-1.9, 1.9);
    const auto which = static_cast<std::size_t>(k % 6);
    q[which] = k % 12 < 6 ? 2 : -2;
    const Pose target = slow_frames(cell, q.data()).tool;
    ArmSolutions found;
    solve_arm(inverse, hold(inverse, {}), target, found);
    bool within = false;
    for (std::size_t i = 0; i < static_cast<std::size_t>(found.count); ++i) {
      const auto& answer = found.solution[i].q;
      double most = 0;
      for (std::size_t j = 0; j < 6; ++j) most = std::fmax(most, std::fabs(answer[j] - q[j]));
      within = within || (most < 1e-6 && limit_margin(model, answer.data()) >= 0);
      CHECK(furthest(slow_frames(cell, answer.data()).tool, target) < 1e-9);
    }
    lost += !within;
  }
  CHECK(lost == 0);
}

TEST_CASE("a batch: each row and sample in its own place, NaN where there is no answer") {
  CellSpec cell = positioner(0, 0.5, 0.45);
  cell.track = TrackSpec{};
  cell.track->upper = 2;
  const Model model = compile(cell);
  const ArmInverse inverse = prepare_arm_inverse(model);
  const std::vector<double> q{1.0, 0.3, 0.5, 0.7, 0.2, 0.6, 0.1};
  double targets[32];
  pose_to_rows(slow_frames(cell, q.data()).tool, targets);
  pose_to_rows(at({50, 0, 0}), targets + 16);
  const std::vector<std::vector<double>> samples{{0.0}, {1.0}};
  const std::size_t k = 2 * 8;
  std::vector<double> answers(2 * k * 7);
  std::vector<std::uint8_t> valid(2 * k);
  std::vector<std::int8_t> loose(2 * k);
  solve_batch(inverse, samples, true, targets, answers, valid, loose);
  int at_zero = 0, at_one = 0;
  for (std::size_t row = 0; row < 2; ++row)
    for (std::size_t i = 0; i < k; ++i) {
      const double* answer = answers.data() + (row * k + i) * 7;
      CHECK(static_cast<bool>(valid[row * k + i]) == !std::isnan(answer[0]));
      if (!valid[row * k + i]) continue;
      CHECK(row == 0);
      CHECK(answer[0] == samples[i / 8][0]);
      ++(i < 8 ? at_zero : at_one);
      CHECK(furthest(slow_frames(cell, answer).tool, pose_from_rows(targets)) < 1e-9);
    }
  CHECK(at_one >= 4);
  CHECK(at_zero % 2 == 0);
}
