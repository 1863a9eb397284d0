#include "armwright/dynamics/hanging.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/dynamics/gravity.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Hung {
  double tilt = 0;
  Vec3 centre{}, point{};
  std::vector<double> torque;
};

Hung hung(const Model& model, const Inertia& still, const LiftingPoint& point, const Vec3& up, const std::vector<double>& q) {
  Hung out;
  out.torque.resize(q.size());
  double centre[3], at[3];
  hang(model, still, point, up, q, {{&out.tilt, 1}, centre, at, out.torque});
  out.centre = {centre[0], centre[1], centre[2]}, out.point = {at[0], at[1], at[2]};
  return out;
}

// Centre of gravity and lifting point straight from the description.
Vec3 slow_below(const CellSpec& cell, const Inertia& still, std::size_t link, const Vec3& in_link, const std::vector<double>& q) {
  const SlowFrames frames = slow_frames(cell, q.data());
  double mass = still.mass;
  Vec3 moment = still.mass * still.centre;
  for (const auto& [place, body] : slow_bodies(cell, frames, false)) mass += body.mass, moment = moment + body.mass * body.centre;
  return (1 / mass) * moment - frames.link[link] * in_link;
}

double mass_of(const CellSpec& cell, const Inertia& still) {
  double mass = still.mass + cell.tool.inertia.mass;
  for (const LinkSpec& link : cell.arm.links) mass += link.inertia.mass;
  return mass;
}

}  // namespace

TEST_CASE("what joints hold as an arm hangs is the slope of its energy") {
  Draw draw{1};
  for (std::size_t joints = 1; joints <= 8; ++joints) {
    CellSpec cell = random_cell(draw, joints, joints % 2 == 0);
    const Model model = compile(cell);
    const Inertia still = draw.body();
    std::vector<double> q(joints);
    for (double& x : q) x = draw.uniform(-3, 3);
    const std::size_t link = joints / 2;
    const Vec3 in_link = draw.vector(0.3);
    const LiftingPoint point{static_cast<std::int32_t>(link), model.link_frame[link] * in_link};
    const Hung got = hung(model, still, point, {0, 0, 1}, q);
    const Vec3 below = slow_below(cell, still, link, in_link, q);
    CHECK(norm(got.centre - got.point - below) < 1e-12);
    for (std::size_t i = 0; i < joints; ++i) {
      constexpr double h = 1e-5;
      auto up = q, down = q;
      up[i] += h, down[i] -= h;
      const double slope = -mass_of(cell, still) * g0 * (norm(slow_below(cell, still, link, in_link, up)) - norm(slow_below(cell, still, link, in_link, down))) / (2 * h);
      CHECK(got.torque[i] == Approx(slope).epsilon(1e-7).margin(1e-6));
    }
  }
}

TEST_CASE("turned as it hangs, the centre of gravity is straight below the eye, and no more upright than by the tilt") {
  Draw draw{2};
  for (int trial = 0; trial < 30; ++trial) {
    const CellSpec cell = random_cell(draw, 4);
    const Model model = compile(cell);
    const Inertia still = draw.body();
    const Vec3 up = draw.direction();
    const std::vector<double> q{draw.uniform(-3, 3), draw.uniform(-3, 3), draw.uniform(-3, 3), draw.uniform(-3, 3)};
    const Hung got = hung(model, still, {-1, draw.vector(0.5)}, up, q);
    const Vec3 below = got.centre - got.point;
    const Vec3 axis = cross(below, -up);
    const Vec3 turned = turn_about((1 / norm(axis)) * axis, got.tilt) * below;
    CHECK(norm(turned + norm(below) * up) < 1e-12);
    CHECK(got.tilt >= 0);
    CHECK(got.tilt <= half_turn);
  }
}

// By hand: a stand of 30 kg with its centre over the foot, and a level arm of 10 kg, 0.8 m out; the eye on top of the stand,
// 1 m up, the stand's centre 0.4 m up. C = 0.2 m out, (30 * 0.4 + 10 * 1) / 40 = 0.55 m up: tan of the tilt 0.2 / 0.45.
TEST_CASE("a stand with a level arm hangs as statics by hand say") {
  CellSpec cell;
  cell.arm.joints = {joint("axis", at({0, 0, 1}), {0, -1, 0})};
  cell.arm.links.resize(1);
  cell.arm.links[0].inertia = {10, {0.8, 0, 0}};
  const Model model = compile(cell);
  const Inertia stand{30, {0, 0, 0.4}};
  const Hung got = hung(model, stand, {-1, {0, 0, 1}}, {0, 0, 1}, {0});
  CHECK(norm(got.centre - Vec3{0.2, 0, 0.55}) < 1e-14);
  CHECK(got.tilt == Approx(std::atan(0.2 / 0.45)).epsilon(1e-14));
  // The arm's weight at 0.8 m, across the line in which it now pulls.
  CHECK(got.torque[0] == Approx(10 * g0 * 0.8 * std::cos(got.tilt)).epsilon(1e-14));
  // Hung by the arm's own centre, with the stand below: the joint holds the stand's weight about itself instead.
  const Pose into = inverse(model.link_frame[0]);
  const Vec3 own = inverse(into) * Vec3{0.8, 0, 0};
  const Hung by_arm = hung(model, stand, {0, own}, {0, 0, 1}, {0});
  const Vec3 below = by_arm.centre - by_arm.point;  // (-0.6, 0, -0.45)
  CHECK(norm(below - Vec3{-0.6, 0, -0.45}) < 1e-14);
  CHECK(by_arm.tilt == Approx(std::atan(0.6 / 0.45)).epsilon(1e-14));
  // Weight of the stand along u = (-0.8, -0.6), its centre 0.6 m below the joint; the joint's axis is -y.
  CHECK(by_arm.torque[0] == Approx(-30 * g0 * 0.6 * 0.8).epsilon(1e-13));
}

TEST_CASE("hung level by its base, an arm holds what it holds when it stands") {
  Draw draw{3};
  CellSpec cell = random_cell(draw, 5);
  cell.load.reset();
  SpringSpec spring;
  spring.link_a = 0, spring.link_b = 2, spring.point_a = draw.vector(0.3), spring.point_b = draw.vector(0.3);
  spring.length = 0.1, spring.pull = 40, spring.rate = 700;
  cell.arm.springs.push_back(spring);
  const Model model = compile(cell);
  const std::vector<double> q{0.2, -0.7, 1.1, 0.5, -2};
  const Inertia still{20, {0.1, 0.2, 0.3}};
  const Vec3 centre = hung(model, still, {}, {0, 0, 1}, q).centre;
  const Hung got = hung(model, still, {-1, centre + Vec3{0, 0, 0.7}}, {0, 0, 1}, q);
  CHECK(got.tilt < 1e-15);
  std::vector<double> standing(5);
  gravity_torques(model, {}, q, standing);
  for (std::size_t i = 0; i < 5; ++i) CHECK(got.torque[i] == Approx(standing[i]).epsilon(1e-12));
  CHECK(std::isnan(hung(model, still, {-1, centre}, {0, 0, 1}, q).tilt));
}
