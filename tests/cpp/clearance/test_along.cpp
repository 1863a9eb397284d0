#include "armwright/clearance/along.hpp"

#include <array>
#include <atomic>
#include <cmath>

#include "armwright/clearance/scene_data.hpp"
#include "armwright/kinematics/chain.hpp"
#include "catch_shim.hpp"
#include "cells.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

const std::atomic<bool> never{false};
const StopSign go_on{never};
constexpr double tolerance = 1e-3;

// One arm 1 m long, 0.05 m thick all round, that turns about z, and a ball of 0.05 m, 1.2 m from the axis.
CellSpec swing(double angle, double required = 0) {
  CellSpec cell;
  cell.arm.name = "swing";
  cell.arm.joints = {turning("axis 1", at({0, 0, 0}), z_axis)};
  cell.arm.links = {link("beam", {strut(0.05, {1, 0, 0})})};
  ShapeSpec ball = sphere(0.05, at({1.2 * std::cos(angle), 1.2 * std::sin(angle), 0}));
  ball.name = "ball", ball.clearance = required;
  cell.fixtures = {ball};
  return cell;
}

// One joint from a to b, evenly.
std::vector<double> evenly(double a, double b) {
  std::vector<double> control;
  for (int k = 0; k < 6; ++k) control.push_back(a + (b - a) * k / 5);
  return control;
}

// The polynomial at a share of a piece, by the binomial formula.
std::vector<double> value_at(const double* control, std::size_t n, double t) {
  static constexpr double binomial[6] = {1, 5, 10, 10, 5, 1};
  std::vector<double> q(n, 0.0);
  for (std::size_t k = 0; k < 6; ++k)
    for (std::size_t j = 0; j < n; ++j)
      q[j] += binomial[k] * std::pow(t, static_cast<double>(k)) * std::pow(1 - t, 5 - static_cast<double>(k)) * control[k * n + j];
  return q;
}

}  // namespace

TEST_CASE("a beam that swings past a ball: the least is where it points at it, wherever the samples lie") {
  for (const double angle : {0.3, 0.57, 1.1}) {
    const CellSpec cell = swing(angle);
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    const ClearanceAlong found = least_along(*scene, model, evenly(0, 1.5), tolerance, go_on);
    CHECK(found.least >= 0.1 - 1e-12);
    CHECK(found.least <= 0.1 + tolerance);
    CHECK(found.proven <= 0.1 + 1e-12);
    CHECK(found.proven > found.least - tolerance - 1e-12);
    CHECK(std::fabs(found.at * 1.5 - angle) < 0.05);
    CHECK(scene->names[static_cast<std::size_t>(found.solid_b)] == "ball");
  }
}

TEST_CASE("what is left beyond the required distance, told apart from the least distance") {
  const CellSpec cell = swing(0.57, 0.08);
  const Model model = compile(cell);
  const auto scene = build_scene(cell, model);
  const ClearanceAlong spare = least_along(*spare_scene(*scene, 0), model, evenly(0, 1.5), tolerance, go_on);
  CHECK(spare.least == Approx(0.02).margin(tolerance));
  CHECK(spare.proven <= 0.02 + 1e-12);
  const ClearanceAlong more = least_along(*spare_scene(*scene, 0.15), model, evenly(0, 1.5), tolerance, go_on);
  CHECK(more.least == Approx(-0.05).margin(tolerance));
}

TEST_CASE("a way among fixtures: no sample of it is below what is proven") {
  int asked = 0;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    Dice dice(seed);
    CellSpec cell = plain_cell();
    if (seed % 2 == 0) cell.track = test_track();
    strew(cell, dice, 8, false);
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    const std::size_t n = model.joint_count;
    std::vector<double> control;  // two pieces, joined
    const std::vector<double> from = posture(model, dice);
    for (int k = 0; k < 12; ++k)
      for (std::size_t j = 0; j < n; ++j)
        control.push_back(k == 6 ? control[control.size() - n] : from[j] + (k == 0 ? 0 : dice.within(-0.5, 0.5)));
    const ClearanceAlong least = least_along(*scene, model, control, tolerance, go_on);
    const ClearanceAlong spare = least_along(*spare_scene(*scene, 0.02), model, control, tolerance, go_on);
    CHECK(least.proven > least.least - tolerance - 1e-12);
    CHECK(spare.proven > spare.least - tolerance - 1e-12);
    const auto work = make_workspace(*scene);
    double sampled = least.least, sampled_spare = spare.least;
    for (int piece = 0; piece < 2; ++piece)
      for (int k = 0; k <= 300; ++k) {
        const std::vector<double> q = value_at(&control[static_cast<std::size_t>(piece) * 6 * n], n, k / 300.0);
        std::array<Pose, max_joints> frames;
        joint_frames(model, q.data(), frames.data());
        sampled = std::min(sampled, least_distance(*scene, frames.data(), *work, 1e9).distance);
        const Obstacle worst = worst_obstacle(*scene, frames.data(), 0.02);
        sampled_spare = std::min(sampled_spare, worst.clearance.distance - worst.required);
      }
    CHECK(sampled >= least.proven - 1e-9);
    CHECK(sampled_spare >= spare.proven - 1e-9);
    asked += std::isfinite(sampled) ? 1 : 0;
  }
  CHECK(asked == 12);
}

TEST_CASE("with nothing to come near, nothing is near, at once") {
  CellSpec cell = swing(0.5);
  cell.fixtures.clear();
  const Model model = compile(cell);
  const ClearanceAlong found = least_along(*build_scene(cell, model), model, evenly(-2, 2), tolerance, go_on);
  CHECK(std::isinf(found.least));
  CHECK(std::isinf(found.proven));
  CHECK(found.solid_a == -1);
}
