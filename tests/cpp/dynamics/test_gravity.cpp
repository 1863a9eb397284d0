#include "armwright/dynamics/gravity.hpp"

#include <algorithm>

#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

std::vector<double> held(const Model& model, const Inertia& load, const std::vector<double>& q) {
  std::vector<double> torque(q.size());
  gravity_torques(model, load, q, torque);
  return torque;
}

}  // namespace

TEST_CASE("gravity torque is the slope of the potential energy, whichever way gravity points") {
  Draw draw{1};
  for (std::size_t joints = 1; joints <= 12; ++joints) {
    CellSpec cell = random_cell(draw, joints, joints > 2);
    if (joints % 2 == 0 && joints < 12) cell.track = random_track(draw);
    if (joints > 4) cell.gravity = g0 * draw.direction();
    const Model model = compile(cell);
    std::vector<double> q(model.joint_count);
    for (double& x : q) x = draw.uniform(-3, 3);
    for (const bool loaded : {false, true}) {
      const auto torque = held(model, loaded ? model.load : Inertia{}, q);
      for (std::size_t i = 0; i < q.size(); ++i) {
        constexpr double h = 1e-4;
        auto up = q, down = q;
        up[i] += h, down[i] -= h;
        const double slope = (potential_energy(cell, up.data(), loaded) - potential_energy(cell, down.data(), loaded)) / (2 * h);
        CHECK(torque[i] == Approx(slope).epsilon(1e-6).margin(1e-6));
      }
    }
  }
}

TEST_CASE("a level bar: m g l / 2; upright: nothing; a lift: m g") {
  CellSpec cell;
  cell.arm.joints = {joint("lift", identity_pose, {0, 0, 1}, 0, 1), joint("axis", identity_pose, {0, -1, 0})};
  cell.arm.joints[0].kind = JointKind::prismatic;
  cell.arm.links.resize(2);
  cell.arm.links[1].inertia = {3, {0.4, 0, 0}};
  const Model model = compile(cell);
  auto torque = held(model, {}, {0.2, 0});
  CHECK(torque[0] == Approx(3 * g0));
  CHECK(torque[1] == Approx(3 * g0 * 0.4));
  torque = held(model, {}, {0.9, quarter_turn});
  CHECK(torque[0] == Approx(3 * g0));
  CHECK(std::fabs(torque[1]) < 1e-14);
}

TEST_CASE("turning the whole cell with gravity changes nothing") {
  Draw draw{2};
  CellSpec cell = random_cell(draw, 7, true);
  const std::vector<double> q{0.1, 0.2, -0.3, 0.4, -0.5, 0.6, -0.7};
  const auto before = held(compile(cell), {}, q);
  const Pose X = draw.pose(3);
  cell.mount = X * cell.mount;
  cell.gravity = X.rotation * cell.gravity;
  const auto after = held(compile(cell), {}, q);
  for (std::size_t i = 0; i < 7; ++i) CHECK(after[i] == Approx(before[i]).epsilon(1e-11).margin(1e-11));
}

TEST_CASE("a posture's gravity torques: the same bits alone and anywhere in a batch") {
  Draw draw{3};
  const Model model = compile(random_cell(draw, 7));
  std::vector<double> q(7 * 7), all(7 * 7);
  for (double& x : q) x = draw.uniform(-3, 3);
  gravity_torques(model, model.load, q, all);
  for (std::size_t row = 0; row < 7; ++row) {
    const auto alone = held(model, model.load, {q.begin() + static_cast<long>(7 * row), q.begin() + static_cast<long>(7 * row + 7)});
    CHECK(std::equal(alone.begin(), alone.end(), all.begin() + static_cast<long>(7 * row)));
  }
}
