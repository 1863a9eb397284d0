#include "armwright/dynamics/springs.hpp"

#include "armwright/dynamics/gravity.hpp"
#include "armwright/dynamics/inverse_dynamics.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

SpringSpec spring(Draw& draw, int a, int b) {
  SpringSpec spec;
  spec.link_a = a, spec.link_b = b, spec.point_a = draw.vector(0.4), spec.point_b = draw.vector(0.4);
  spec.length = draw.uniform(0.1, 0.4), spec.pull = draw.uniform(-300, 500), spec.rate = draw.uniform(-500, 4000);
  return spec;
}

// The springs' energy straight from the description: ends on the links by plain multiplication.
double slow_energy(const CellSpec& cell, const double* q) {
  const SlowFrames frames = slow_frames(cell, q);
  const std::size_t first = cell.track ? 1 : 0;
  const auto end = [&](int link, const Vec3& p) {
    if (link >= 0) return frames.link[first + static_cast<std::size_t>(link)] * p;
    return (cell.track ? frames.link[0] * cell.mount : cell.mount) * p;
  };
  double sum = 0;
  for (const SpringSpec& s : cell.arm.springs) {
    const double length = norm(end(s.link_b, s.point_b) - end(s.link_a, s.point_a));
    // The work from the told length on: pull · x + rate · x² / 2.
    const double x = length - s.length, pull = s.pull + s.rate * x;
    if (s.pulls_only && pull < 0) {
      sum -= s.pull * s.pull / (2 * s.rate);  // slack: the energy given up on the way there
    } else {
      sum += s.pull * x + 0.5 * s.rate * x * x;
    }
  }
  return sum;
}

std::vector<double> given_by_springs(const CellSpec& cell, const std::vector<double>& q) {
  CellSpec bare = cell;
  bare.arm.springs.clear();
  std::vector<double> with(q.size()), without(q.size());
  gravity_torques(compile(cell), {}, q, with);
  gravity_torques(compile(bare), {}, q, without);
  for (std::size_t i = 0; i < q.size(); ++i) without[i] -= with[i];
  return without;
}

}  // namespace

TEST_CASE("springs give minus the slope of their energy, between any two links, on a track too") {
  Draw draw{11};
  for (std::size_t joints = 1; joints <= 11; ++joints) {
    CellSpec cell = random_cell(draw, joints, joints > 2);
    if (joints % 2 == 0) cell.track = random_track(draw);
    const int links = static_cast<int>(joints);
    for (int s = 0; s < 3; ++s) {
      const int a = static_cast<int>(draw.uniform(-1, links - 0.001)), b = static_cast<int>(draw.uniform(-1, links - 0.001));
      if (a == b) continue;
      cell.arm.springs.push_back(spring(draw, a, b));
      if (s == 2) cell.arm.springs.back().pulls_only = true, cell.arm.springs.back().rate = 900;
    }
    std::vector<double> q(joints + (cell.track ? 1 : 0));
    for (double& x : q) x = draw.uniform(-2, 2);
    const auto torque = given_by_springs(cell, q);
    double sum = 0;
    for (std::size_t i = 0; i < q.size(); ++i) {
      constexpr double h = 1e-5;
      auto up = q, down = q;
      up[i] += h, down[i] -= h;
      const double slope = (slow_energy(cell, up.data()) - slow_energy(cell, down.data())) / (2 * h);
      CHECK(torque[i] == Approx(-slope).epsilon(1e-6).margin(1e-5));
      sum += std::fabs(torque[i]);
    }
    CHECK((sum > 1 || cell.arm.springs.empty()));
    // The energy that the core tells has the same slopes: it differs by a constant.
    const Model model = compile(cell);
    Pose frames[max_joints];
    const auto told = [&](const std::vector<double>& at) {
      joint_frames(model, at.data(), frames);
      return spring_energies(model, frames);
    };
    auto away = q;
    for (double& x : away) x += 0.05;
    CHECK(told(away) - told(q) == Approx(slow_energy(cell, away.data()) - slow_energy(cell, q.data())).epsilon(1e-9).margin(1e-9));
  }
}

TEST_CASE("a spring of no free length from above the axis balances a bar at every angle: rate = m g l / (a b)") {
  CellSpec cell;
  cell.arm.joints = {joint("axis", identity_pose, {0, -1, 0})};
  cell.arm.links.resize(1);
  cell.arm.links[0].inertia = {3, {0.4, 0, 0}};
  SpringSpec s;
  s.point_a = {0, 0, 0.25}, s.point_b = {0.2, 0, 0}, s.rate = 3 * g0 * 0.4 / (0.25 * 0.2);
  cell.arm.springs = {s};
  const Model model = compile(cell);
  for (double q = -3.1; q < 3.2; q += 0.1) {
    std::vector<double> held(1);
    gravity_torques(model, {}, std::vector<double>{q}, held);
    CHECK(std::fabs(held[0]) < 1e-12);
  }
  // Level, by hand: the spring of length hypot(0.25, 0.2) with a free length of 0.1 m has the lever a b / length.
  cell.arm.springs[0].length = 0.1;
  const double length = std::hypot(0.25, 0.2), pull = s.rate * (length - 0.1);
  std::vector<double> held(1), still{0};
  gravity_torques(compile(cell), {}, still, held);
  CHECK(held[0] == Approx(3 * g0 * 0.4 - pull * 0.25 * 0.2 / length));
  std::vector<double> told_length(1), told_pull(1);
  spring_states(compile(cell), still, told_length, told_pull);
  CHECK(told_length[0] == Approx(length));
  CHECK(told_pull[0] == Approx(pull));
}

TEST_CASE("slack coils give nothing; ends that meet give no torque and no NaN") {
  CellSpec cell;
  cell.arm.joints = {joint("axis", identity_pose, {0, -1, 0})};
  cell.arm.links.resize(1);
  SpringSpec s;
  s.point_a = {0, 0, 0.25}, s.point_b = {0.2, 0, 0}, s.rate = 1000, s.length = 0.5, s.pulls_only = true;
  cell.arm.springs = {s};
  CHECK(given_by_springs(cell, {0.0})[0] == 0);
  cell.arm.springs[0].pulls_only = false;
  CHECK(std::fabs(given_by_springs(cell, {0.0})[0]) > 1);
  cell.arm.springs[0].point_a = {0.2, 0, 0};
  CHECK(given_by_springs(cell, {0.0})[0] == 0);
}

TEST_CASE("inverse dynamics and the payload count springs") {
  Draw draw{12};
  CellSpec cell = random_cell(draw, 6);
  cell.arm.springs = {spring(draw, 0, 1), spring(draw, -1, 3)};
  const Model model = compile(cell);
  std::vector<double> q(12), still(12, 0.0), moved(12), held(12);
  for (double& x : q) x = draw.uniform(-2, 2);
  inverse_dynamics(model, model.load, q, still, still, moved);
  gravity_torques(model, model.load, q, held);
  for (std::size_t i = 0; i < 12; ++i) CHECK(moved[i] == Approx(held[i]).epsilon(1e-11).margin(1e-11));
}
