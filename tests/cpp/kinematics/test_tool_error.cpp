#include "armwright/kinematics/tool_error.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Off {
  Vec3 shift, turn;
};

// From one tool pose to another, to the second order in their turn.
Off between(const Pose& from, const Pose& to) {
  const Rotation R = to.rotation * transpose(from.rotation);
  return {to.position - from.position, 0.5 * Vec3{R.y.z - R.z.y, R.z.x - R.x.z, R.x.y - R.y.x}};
}

Off first_order(const Model& model, const SmallMove& move, const std::vector<double>& q) {
  double out[6];
  tool_errors(model, {&move, 1}, q, out);
  return {{out[0], out[1], out[2]}, {out[3], out[4], out[5]}};
}

// A small move put into the description itself, at the end of `before`: half of it each way, so that what is left out is of
// the third order.
template <class Put>
Off by_differences(CellSpec cell, const Put& put, const SmallMove& move, const std::vector<double>& q) {
  const auto moved = [&](double side) {
    CellSpec other = cell;
    const double angle = norm(move.turn);
    Pose turned = angle > 0 ? Pose{turn_about((1 / angle) * move.turn, side * angle), {0, 0, 0}} : identity_pose;
    const Pose about = at(move.point) * turned * at(-move.point);
    put(other, at(side * move.shift) * about);
    std::vector<double> there = q;
    for (std::size_t i = 0; i < q.size(); ++i) there[i] += side * move.joints[i];
    return slow_frames(other, there.data()).tool;
  };
  const Off half = between(moved(-0.5), moved(0.5));
  return half;
}

double far(const Off& a, const Off& b) { return std::max(norm(a.shift - b.shift), norm(a.turn - b.turn)); }

constexpr double small = 1e-4;

}  // namespace

TEST_CASE("a small move anywhere in the chain moves the tool as the moved description says") {
  Draw draw{1};
  for (std::size_t joints = 1; joints <= 8; ++joints) {
    CellSpec cell = random_cell(draw, joints, joints % 2 == 0);
    if (joints % 3 == 0) cell.track = random_track(draw);
    const Model model = compile(cell);
    const std::size_t track = cell.track ? 1 : 0;
    std::vector<double> q(model.joint_count);
    for (double& x : q) x = draw.uniform(-2, 2);
    for (std::size_t i = 0; i < joints; ++i) {
      // Told in the frame of the link before joint i, told on in the joint frame that the core has there.
      SmallMove told{-1, draw.vector(0.3), small * draw.vector(1), small * draw.vector(1), {}};
      for (std::size_t k = 0; k < model.joint_count; ++k) told.joints[k] = small * draw.uniform(-1, 1);
      const Off slow = by_differences(cell, [&](CellSpec& other, const Pose& by) { other.arm.joints[i].placement = by * cell.arm.joints[i].placement; }, told, q);

      SmallMove move = told;
      const int before = static_cast<int>(i + track) - 1;
      Pose X = before < 0 ? identity_pose : model.link_frame[static_cast<std::size_t>(before)];
      if (i == 0) X = X * cell.mount;
      move.frame = before;
      move.point = X * told.point, move.shift = X.rotation * told.shift, move.turn = X.rotation * told.turn;
      CHECK(far(first_order(model, move, q), slow) < 20 * small * small * small);
      CHECK(norm(slow.shift) > 0.01 * small);
    }
  }
}

TEST_CASE("flange and tool point count as places of the chain") {
  Draw draw{2};
  const CellSpec cell = random_cell(draw, 5);
  const Model model = compile(cell);
  const std::vector<double> q{0.3, -0.8, 1.2, 0.4, -1.1};
  const SmallMove told{4, draw.vector(0.2), small * draw.vector(1), small * draw.vector(1), {}};
  SmallMove move = told;
  Pose X = model.link_frame[4];
  move.point = X * told.point, move.shift = X.rotation * told.shift, move.turn = X.rotation * told.turn;
  const Off flange = by_differences(cell, [&](CellSpec& other, const Pose& by) { other.arm.flange = by * cell.arm.flange; }, told, q);
  CHECK(far(first_order(model, move, q), flange) < 20 * small * small * small);
  X = model.flange;
  move.point = X * told.point, move.shift = X.rotation * told.shift, move.turn = X.rotation * told.turn;
  const Off tool = by_differences(cell, [&](CellSpec& other, const Pose& by) { other.tool.tool_point = by * cell.tool.tool_point; }, told, q);
  CHECK(far(first_order(model, move, q), tool) < 20 * small * small * small);
}

// Two links in a plane, told by hand: d x = -(l1 s1 + l2 s12) dq1 - l2 s12 dq2, d y = (l1 c1 + l2 c12) dq1 + l2 c12 dq2.
TEST_CASE("two links in a plane err as the textbook's derivative says") {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, 0, 1}), joint("axis 2", at({0.5, 0, 0}), {0, 0, 1})};
  cell.arm.links.resize(2);
  cell.arm.flange = at({0.4, 0, 0});
  const Model model = compile(cell);
  const double a = 0.5, b = -0.9, d1 = 2e-4, d2 = -5e-4;
  SmallMove move;
  move.joints[0] = d1, move.joints[1] = d2;
  const Off off = first_order(model, move, {a, b});
  CHECK(std::fabs(off.shift.x - (-(0.5 * std::sin(a) + 0.4 * std::sin(a + b)) * d1 - 0.4 * std::sin(a + b) * d2)) < 1e-18);
  CHECK(std::fabs(off.shift.y - ((0.5 * std::cos(a) + 0.4 * std::cos(a + b)) * d1 + 0.4 * std::cos(a + b) * d2)) < 1e-18);
  CHECK(std::fabs(off.turn.z - (d1 + d2)) < 1e-18);
}
