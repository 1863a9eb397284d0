#include <cmath>

#include "armwright/motion/follow.hpp"
#include "armwright/motion/tool_rates.hpp"
#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

const std::vector<double> posture{0.2, 0.9, -1.3, 0.3, 0.8, -0.2};

CellSpec arm(bool track = false) {
  CellSpec cell = positioner(0.1, 0.5, 0.45);
  cell.tool.tool_point = {turn_about({0, 1, 0}, 0.4), {0.1, 0.02, 0.05}};
  if (track) cell.track = TrackSpec{}, cell.track->axis = {1, 0, 0}, cell.track->lower = 0, cell.track->upper = 2, cell.track->carriage.name = "carriage";
  set_limits(cell, 2, 8, 60);
  return cell;
}

Pose shifted(Pose X, Vec3 by, Vec3 axis, double angle) {
  X.position = X.position + by;
  X.rotation = turn_about(axis, angle) * X.rotation;
  return X;
}

double off_line(const Vec3& p, const Vec3& a, const Vec3& b) { return norm(cross(p - a, b - a)) / norm(b - a); }

}  // namespace

TEST_CASE("tool rates: slopes of the tool's place and attitude") {
  Draw draw{3};
  CellSpec cell = random_cell(draw, 7, true);
  cell.track = random_track(draw);
  const Model model = compile(cell);
  std::vector<double> q(8), v(8), a(8);
  for (std::size_t i = 0; i < 8; ++i) q[i] = draw.uniform(-1, 1), v[i] = draw.uniform(-1, 1), a[i] = draw.uniform(-1, 1);
  const auto at = [&](double t) {
    std::vector<double> moved(8);
    for (std::size_t i = 0; i < 8; ++i) moved[i] = q[i] + t * (v[i] + 0.5 * t * a[i]);
    return tool_at(model, moved.data());
  };
  std::array<Pose, max_joints> frames;
  joint_frames(model, q.data(), frames.data());
  const ToolRates r = tool_rates(model, frames.data(), v.data(), a.data());
  constexpr double h = 1e-4;
  const Pose ahead = at(h), here = at(0), back = at(-h);
  CHECK(norm((0.5 / h) * (ahead.position - back.position) - r.linear) < 1e-6);
  CHECK(norm((1 / (h * h)) * (ahead.position - 2.0 * here.position + back.position) - r.linear_next) < 1e-5);
  const Rotation turn = ahead.rotation * transpose(back.rotation);
  const Vec3 w{turn.y.z - turn.z.y, turn.z.x - turn.x.z, turn.x.y - turn.y.x};
  CHECK(norm((0.25 / h) * w - r.angular) < 1e-6);
}

TEST_CASE("a tool line: on the line, turning evenly, joint rates are the slopes of the joints") {
  for (const bool track : {false, true}) {
    const Model model = compile(arm(track));
    const ArmInverse inverse = prepare_arm_inverse(model);
    std::vector<double> start = posture;
    if (track) start.insert(start.begin(), 0.5);
    const std::size_t n = start.size();
    const Pose from = tool_at(model, start.data()), to = shifted(from, {-0.1, 0.3, -0.2}, {0, 0.6, 0.8}, 0.5);
    const Followed path{tool_line(from, to), track ? 0.9 : std::nan("")};
    std::vector<double> s;
    for (int i = 0; i <= 2000; ++i) s.push_back(path.curve.extent * i / 2000);
    PathRows rows;
    rows.joint_count = n;
    REQUIRE(follow(inverse, path, start, s, rows).good());
    const double h = s[1];
    for (std::size_t row = 1; row < 2000; row += 37) {
      const Pose X = tool_at(model, rows.q.data() + row * n);
      CHECK(furthest(X, pose_at(path.curve, s[row])) < 1e-8);
      CHECK(off_line(X.position, from.position, to.position) < 1e-8);
      CHECK(angle_between(from.rotation, X.rotation) == Approx(0.5 * s[row] / path.curve.extent).epsilon(1e-6));
      for (std::size_t i = 0; i < n; ++i) {
        const double a = rows.q[(row - 1) * n + i], b = rows.q[row * n + i], c = rows.q[(row + 1) * n + i];
        CHECK(rows.first[row * n + i] == Approx((c - a) / (2 * h)).epsilon(1e-4).margin(1e-4));
        CHECK(rows.second[row * n + i] == Approx((c - 2 * b + a) / (h * h)).epsilon(2e-2).margin(5e-2));
      }
    }
    if (track) CHECK(rows.q[2000 * n] == Approx(0.9));
  }
}

TEST_CASE("an arc: on its circle, through the point, at a constant distance from the centre") {
  ToolCurve arc;
  const Pose from = at({1, 0, 0});
  REQUIRE(tool_arc(from, {std::sqrt(0.5), std::sqrt(0.5), 0}, at({0, 1, 0}), arc));
  CHECK(norm(arc.centre) < 1e-12);
  CHECK(arc.length == Approx(quarter_turn));
  REQUIRE(tool_arc(from, {-1, 0, 0}, at({0, 1, 0}), arc));  // the long way round
  CHECK(arc.length == Approx(3 * quarter_turn));
  for (const double share : {0.0, 0.3, 1.0}) CHECK(norm(pose_at(arc, share * arc.extent).position) == Approx(1));
  CHECK(norm(pose_at(arc, arc.extent).position - Vec3{0, 1, 0}) < 1e-12);
  CHECK_FALSE(tool_arc(from, {2, 0, 0}, at({3, 0, 0}), arc));
  CHECK_FALSE(tool_arc(from, {2, 1, 0}, from, arc));
}

TEST_CASE("half a turn of the tool has an axis") {
  for (const Vec3 axis : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0.6, -0.8}}) {
    const Pose to{turn_about(axis, half_turn), {0.1, 0, 0}};
    const ToolCurve line = tool_line(identity_pose, to);
    CHECK(furthest(pose_at(line, line.extent), to) < 1e-9);
  }
}

TEST_CASE("lines, arcs and joint moves blended: limits kept, the ends passed within the blend distance without a stop") {
  const Model model = compile(arm());
  const ArmInverse inverse = prepare_arm_inverse(model);
  const Pose A = tool_at(model, posture.data()), B = shifted(A, {0, 0.25, 0}, {0, 0, 1}, 0.2), C = shifted(B, {-0.1, 0, -0.2}, {0, 1, 0}, 0.1);
  std::vector<double> other = posture;
  other[0] -= 0.5, other[3] += 0.4;
  for (const Timing timing : {Timing::time_optimal, Timing::trapezoidal, Timing::jerk_limited}) {
    CycleSpec cycle = cycle_of(posture, {to_pose(B), to_pose(C), to_joints(other), to_pose(A)});
    cycle.moves[1].kind = MoveKind::arc;
    cycle.moves[1].via = 0.5 * (B.position + C.position) + Vec3{-0.05, 0, 0.05};
    for (MoveSpec& move : cycle.moves) move.blend = 0.04, move.timing = timing, move.tool.speed = 0.5, move.tool.acceleration = 3, move.tool.turn_speed = 2;
    const CyclePlan plan = plan_cycle(model, &inverse, cycle);
    CAPTURE(static_cast<int>(timing), static_cast<int>(plan.refusal.problem), plan.refusal.move, plan.refusal.axis, plan.refusal.value);
    REQUIRE(plan.refusal.good());
    const TimedMotion& m = plan.motion;
    CHECK(greatest_use(model, cycle, m) < 1 + 1e-7);
    const Vec3 ends[] = {B.position, C.position, tool_at(model, other.data()).position};
    double nearest[] = {1, 1, 1};
    for (std::size_t row = 0; row < m.time.size(); ++row) {
      const double* q = m.q.data() + row * 6;
      std::array<Pose, max_joints> frames;
      joint_frames(model, q, frames.data());
      const ToolRates r = tool_rates(model, frames.data(), m.speed.data() + row * 6, m.acceleration.data() + row * 6);
      CHECK(norm(r.linear) < 0.5 * (1 + 1e-7));
      CHECK(norm(r.linear_next) < 3 * (1 + 1e-6));
      CHECK(norm(r.angular) < 2 * (1 + 1e-7));
      const Vec3 p = tool_at(model, q).position;
      for (int k = 0; k < 3; ++k) nearest[k] = std::min(nearest[k], norm(p - ends[k]));
      if (m.time[row] > 0.1 && m.time[row] < m.time.back() - 0.1) CHECK(norm(r.linear) > 1e-3);
      if (m.move[row] == 0 && norm(p - B.position) > 0.04) CHECK(off_line(p, A.position, B.position) < 1e-8);
    }
    for (const double off : nearest) CHECK(off <= 0.04);
    CHECK(furthest(tool_at(model, m.q.data() + (m.time.size() - 1) * 6), A) < 1e-8);
  }
}

TEST_CASE("what cannot be followed is told: out of reach, past a limit, through a singular posture") {
  CellSpec cell = arm();
  Model model = compile(cell);
  ArmInverse inverse = prepare_arm_inverse(model);
  const Pose A = tool_at(model, posture.data());
  CyclePlan plan = plan_cycle(model, &inverse, cycle_of(posture, {to_pose(shifted(A, {2, 0, 0}, {0, 0, 1}, 0))}));
  CHECK((plan.refusal.problem == PlanProblem::out_of_reach || plan.refusal.problem == PlanProblem::singular));
  CHECK(plan.refusal.move == 0);
  CHECK(plan.refusal.share > 0);
  CHECK(plan.refusal.share < 0.6);
  plan = plan_cycle(model, &inverse, cycle_of({0.2, 0.9, -1.3, 0, 0.5, 0}, {to_joints({0.2, 0.9, -1.3, 0, 0.0, 0}), to_pose(A)}));
  CHECK(plan.refusal.problem == PlanProblem::singular);
  CHECK(plan.refusal.move == 1);
  CHECK(plan.refusal.value < plan.refusal.allowed);
  cell.arm.joints[0].upper = 0.3;
  model = compile(cell);
  inverse = prepare_arm_inverse(model);
  plan = plan_cycle(model, &inverse, cycle_of(posture, {to_pose(shifted(A, {0, 0.3, 0}, {0, 0, 1}, 0))}));
  CHECK(plan.refusal.problem == PlanProblem::joint_range);
  CHECK(plan.refusal.axis == 0);
  CHECK(plan.refusal.value > 0);
  MoveSpec arc = to_pose(shifted(A, {0, 0.2, 0}, {0, 0, 1}, 0));
  arc.kind = MoveKind::arc, arc.via = A.position;
  CHECK(plan_cycle(model, &inverse, cycle_of(posture, {arc})).refusal.problem == PlanProblem::no_circle);
}
