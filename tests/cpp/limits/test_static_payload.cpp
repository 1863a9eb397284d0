#include "armwright/limits/static_payload.hpp"

#include "armwright/dynamics/gravity.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

StaticPayload one(const Model& model, Vec3 centre, const std::vector<double>& q, std::vector<double>* by_joint = nullptr, Limit limit = Limit::continuous) {
  StaticPayload answer;
  std::vector<double> own(q.size());
  static_payloads(model, centre, limit, q, {{&answer.mass, 1}, {&answer.joint, 1}, {&answer.holds_itself, 1}, own});
  if (by_joint) *by_joint = own;
  return answer;
}

// A level arm of two point masses: 4 kg at 0.5 m on axis 1, 2 kg 0.3 m beyond axis 2, which is 1 m out.
CellSpec level_arm(double first, double second) {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, -1, 0}), joint("axis 2", at({1, 0, 0}), {0, -1, 0})};
  cell.arm.links.resize(2);
  cell.arm.links[0].inertia = {4, {0.5, 0, 0}}, cell.arm.links[1].inertia = {2, {0.3, 0, 0}};
  cell.arm.flange = at({0.5, 0, 0});
  cell.arm.joints[0].torque_continuous = first, cell.arm.joints[0].torque_peak = 2 * first;
  cell.arm.joints[1].torque_continuous = second, cell.arm.joints[1].torque_peak = 2 * second;
  return cell;
}

}  // namespace

TEST_CASE("at the answer exactly one joint stands at its limit and none is beyond") {
  Draw draw{1};
  int limited = 0;
  for (int k = 0; k < 300; ++k) {
    CellSpec cell = random_cell(draw, 2 + static_cast<std::size_t>(k % 7), k % 2 == 1);
    if (k % 3 == 0) cell.gravity = g0 * draw.direction();
    for (auto& j : cell.arm.joints) j.torque_continuous = draw.uniform(50, 300), j.torque_peak = 2 * j.torque_continuous;
    const Model model = compile(cell);
    std::vector<double> q(model.joint_count), by_joint;
    for (double& x : q) x = draw.uniform(-3, 3);
    const Vec3 centre = draw.vector(0.3);
    for (const Limit limit : {Limit::continuous, Limit::peak}) {
      const auto& most = limit == Limit::continuous ? model.torque_continuous : model.torque_peak;
      const auto answer = one(model, centre, q, &by_joint, limit);
      std::vector<double> torque(q.size());
      gravity_torques(model, Inertia{answer.holds_itself ? answer.mass : 0, centre}, q, torque);
      int beyond = 0, at_limit = 0;
      for (std::size_t i = 0; i < q.size(); ++i) {
        beyond += std::fabs(torque[i]) > most[i] * (1 + 1e-9);
        at_limit += std::fabs(std::fabs(torque[i]) / most[i] - 1) < 1e-9;
        if (answer.holds_itself) CHECK(by_joint[i] >= answer.mass);
      }
      CHECK(answer.holds_itself == (beyond == 0));
      if (!answer.holds_itself) {
        CHECK(answer.mass == 0);
        continue;
      }
      ++limited;
      CHECK(at_limit == 1);
      CHECK(std::fabs(torque[static_cast<std::size_t>(answer.joint)]) == Approx(most[static_cast<std::size_t>(answer.joint)]));
      CHECK(by_joint[static_cast<std::size_t>(answer.joint)] == answer.mass);
    }
  }
  CHECK(limited > 200);
}

TEST_CASE("a level arm, by hand, with the load centre beyond the flange") {
  // Axis 1 holds g (4 x 0.5 + 2 x 1.3) = 4.6 g, axis 2 g (2 x 0.3) = 0.6 g; the load hangs 1.5 + c and 0.5 + c out.
  const Model model = compile(level_arm(10 * g0, 3 * g0));
  for (const double c : {0.0, 0.2, 1.0}) {
    std::vector<double> by_joint;
    const auto answer = one(model, model.tool * Vec3{c, 0, 0}, {0, 0}, &by_joint);
    const double first = 5.4 / (1.5 + c), second = 2.4 / (0.5 + c);
    CHECK(by_joint[0] == Approx(first));
    CHECK(by_joint[1] == Approx(second));
    CHECK(answer.mass == Approx(std::fmin(first, second)));
    CHECK(answer.joint == (first < second ? 0 : 1));
  }
  CHECK(one(model, model.tool.position, {0, 0}, nullptr, Limit::peak).mass == Approx(std::fmin(15.4 / 1.5, 5.4 / 0.5)));
}

TEST_CASE("a load that relieves a joint must first undo the arm's own weight") {
  // The arm's second link points back: its mass pulls axis 2 the other way from a load set beyond the axis.
  const Model model = compile(level_arm(unlimited, 3 * g0));
  const auto answer = one(model, model.tool * Vec3{-0.9, 0, 0}, {0, 0});  // 0.4 m behind axis 2
  CHECK(answer.mass == Approx((3 + 0.6) / 0.4));
  CHECK(answer.joint == 1);
}

TEST_CASE("an arm that cannot hold itself says which joint is worst off") {
  const Model model = compile(level_arm(4 * g0, 0.2 * g0));  // 4.6 and 0.6 are wanted: 1.15 and 3 times too much
  std::vector<double> by_joint;
  const auto answer = one(model, model.tool.position, {0, 0}, &by_joint);
  CHECK_FALSE(answer.holds_itself);
  CHECK(answer.mass == 0);
  CHECK(answer.joint == 1);
  CHECK((by_joint[0] == 0 && by_joint[1] == 0));
  const auto none = one(compile(level_arm(unlimited, 0)), model.tool.position, {0, 0});
  CHECK_FALSE(none.holds_itself);
  CHECK(none.joint == 1);
}

TEST_CASE("no lever, or no limit, is no bound on the mass") {
  const double infinite = std::numeric_limits<double>::infinity();
  // Upright: the load's weight runs through both axes.
  const auto upright = one(compile(level_arm(100, 100)), {0, 0, 0}, {quarter_turn, 0});
  CHECK(one(compile(level_arm(unlimited, unlimited)), {0, 0, 0}, {0, 0}).mass == infinite);
  CHECK(one(compile(level_arm(unlimited, unlimited)), {0, 0, 0}, {0, 0}).joint == -1);
  const Model model = compile(level_arm(100, 100));
  const auto hanging = one(model, model.tool.position, {-quarter_turn, 0});
  CHECK(hanging.mass == infinite);
  CHECK(hanging.joint == -1);
  CHECK(hanging.holds_itself);
  CHECK(upright.mass == infinite);
}

TEST_CASE("a lift holds what its force leaves") {
  CellSpec cell;
  cell.arm.joints = {joint("lift", identity_pose, {0, 0, 1}, 0, 1)};
  cell.arm.joints[0].kind = JointKind::prismatic;
  cell.arm.joints[0].torque_continuous = cell.arm.joints[0].torque_peak = 500;
  cell.arm.links.resize(1);
  cell.arm.links[0].inertia = {10, {0, 0, 0}};
  CHECK(one(compile(cell), {3, 4, 5}, {0.3}).mass == Approx(500 / g0 - 10));
}

TEST_CASE("a posture's answer is the same bits alone and anywhere in a batch") {
  Draw draw{2};
  CellSpec cell = random_cell(draw, 6);
  for (auto& j : cell.arm.joints) j.torque_continuous = j.torque_peak = 400;
  const Model model = compile(cell);
  for (std::size_t rows = 1; rows <= 17; ++rows) {
    std::vector<double> q(rows * 6), own(rows * 6), mass(rows);
    for (double& x : q) x = draw.uniform(-3, 3);
    std::vector<std::int32_t> joint(rows);
    std::array<bool, 17> holds;
    static_payloads(model, {0.1, 0, 0.2}, Limit::continuous, q, {mass, joint, {holds.data(), rows}, own});
    for (std::size_t row = 0; row < rows; ++row) {
      std::vector<double> by_joint;
      const auto alone = one(model, {0.1, 0, 0.2}, {q.begin() + static_cast<long>(6 * row), q.begin() + static_cast<long>(6 * row + 6)}, &by_joint);
      CHECK((alone.mass == mass[row] && alone.joint == joint[row] && alone.holds_itself == holds[row]));
      CHECK(std::equal(by_joint.begin(), by_joint.end(), own.begin() + static_cast<long>(6 * row)));
    }
  }
}

TEST_CASE("a belt through joint 2: its motor holds the load's torque there, and motor 1 holds the rest") {
  // Joint 2 turns by axis 2 less axis 1: tau_axis = Cᵀ tau gives axis 1 the difference of the two joints' torques.
  CellSpec cell = level_arm(6 * g0, 3 * g0);
  cell.arm.coupling = {1, 0, -1, 1};
  std::vector<double> by_axis;
  const Model model = compile(cell);
  const auto answer = one(model, model.tool * Vec3{0.2, 0, 0}, {0, 0}, &by_axis);
  // Joints hold 4.6 + 1.7 m and 0.6 + 0.7 m, times g; axis 1 so 4 + 1.0 m.
  CHECK(by_axis[0] == Approx((6 - 4.0) / 1.0));
  CHECK(by_axis[1] == Approx((3 - 0.6) / 0.7));
  CHECK(answer.joint == 0);
}

TEST_CASE("a counterbalance carries its share, and too much of it is a load of its own") {
  // A spring straight up from (0.5, 0, 0) on link 1 pulls with 60 N at its length of 2 m: 30 N m off axis 1.
  const auto held = [](double pull) {
    CellSpec cell = level_arm(10 * g0, unlimited);
    SpringSpec spring;
    spring.link_a = -1, spring.link_b = 0, spring.point_a = {0.5, 0, 2}, spring.point_b = {0.5, 0, 0};
    spring.length = 2, spring.pull = pull, spring.rate = 100;
    cell.arm.springs = {spring};
    const Model model = compile(cell);
    return one(model, model.tool.position, {0, 0});
  };
  CHECK(held(0).mass == Approx((10 - 4.6) / 1.5));
  CHECK(held(60).mass == Approx((10 - 4.6 + 30 / g0) / 1.5));
  CHECK_FALSE(held(2 * 20 * g0).holds_itself);  // lifts with 20 g0 N m where the arm weighs 4.6
}
