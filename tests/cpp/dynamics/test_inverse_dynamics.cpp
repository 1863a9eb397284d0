#include "armwright/dynamics/inverse_dynamics.hpp"

#include <algorithm>

#include "armwright/dynamics/gravity.hpp"
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

Row torques(const Model& model, const Row& q, const Row& v, const Row& a) {
  Row out(q.size());
  inverse_dynamics(model, model.load, q, v, a, out);
  return out;
}

CellSpec any_cell(Draw& draw, std::size_t joints) {
  CellSpec cell = random_cell(draw, joints, joints % 2 == 1);
  if (joints % 3 == 0) cell.track = random_track(draw);
  cell.gravity = g0 * draw.direction();
  return cell;
}

double energy_of_motion(const CellSpec& cell, const Row& q, const Row& v) {
  const Row M = slow_mass_matrix(cell, q.data(), true);
  double sum = 0;
  for (std::size_t i = 0; i < q.size(); ++i)
    for (std::size_t j = 0; j < q.size(); ++j) sum += 0.5 * v[i] * M[i * q.size() + j] * v[j];
  return sum;
}

}  // namespace

TEST_CASE("the mass matrix is the sum over the bodies' Jacobians, and symmetric to the bit") {
  Draw draw{1};
  for (std::size_t joints = 1; joints <= 11; ++joints) {
    const CellSpec cell = any_cell(draw, joints);
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    const Row q = random_row(draw, n, 3), slow = slow_mass_matrix(cell, q.data(), true);
    Row M(n * n);
    mass_matrices(model, model.load, q, M);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j) {
        CHECK(M[i * n + j] == Approx(slow[i * n + j]).epsilon(1e-11).margin(1e-11));
        CHECK(M[i * n + j] == M[j * n + i]);
      }
  }
}

TEST_CASE("torques are M qdd + bias; at rest the bias is the gravity torque") {
  Draw draw{2};
  for (std::size_t joints = 1; joints <= 11; ++joints) {
    const CellSpec cell = any_cell(draw, joints);
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    const Row q = random_row(draw, n, 3), v = random_row(draw, n, 2), a = random_row(draw, n, 5), still(n, 0.0);
    const Row M = slow_mass_matrix(cell, q.data(), true), bias = torques(model, q, v, still), all = torques(model, q, v, a);
    Row gravity(n);
    gravity_torques(model, model.load, q, gravity);
    const Row rest = torques(model, q, still, still);
    for (std::size_t i = 0; i < n; ++i) {
      double sum = bias[i];
      for (std::size_t j = 0; j < n; ++j) sum += M[i * n + j] * a[j];
      CHECK(all[i] == Approx(sum).epsilon(1e-10).margin(1e-10));
      CHECK(rest[i] == Approx(gravity[i]).epsilon(1e-11).margin(1e-11));
    }
  }
}

TEST_CASE("energy balance: the joints' power is the change of kinetic and potential energy") {
  Draw draw{3};
  for (std::size_t joints = 1; joints <= 9; ++joints) {
    const CellSpec cell = any_cell(draw, joints);
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    const Row q = random_row(draw, n, 3), v = random_row(draw, n, 1.5), a = random_row(draw, n, 3), tau = torques(model, q, v, a);
    double power = 0;
    for (std::size_t i = 0; i < n; ++i) power += tau[i] * v[i];
    const auto energy = [&](double t) {
      Row at = q, speed = v;
      for (std::size_t i = 0; i < n; ++i) at[i] += t * v[i] + 0.5 * t * t * a[i], speed[i] += t * a[i];
      return energy_of_motion(cell, at, speed) + potential_energy(cell, at.data(), true);
    };
    constexpr double h = 1e-5;
    CHECK(power == Approx((energy(h) - energy(-h)) / (2 * h)).epsilon(1e-6).margin(1e-5));
  }
}

TEST_CASE("two point masses on two links (Craig, Introduction to Robotics, eq. 6.58, from memory)") {
  CellSpec cell;
  const double l1 = 0.5, l2 = 0.4, m1 = 2, m2 = 1, g = 9.81;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, -1, 0}), joint("axis 2", at({l1, 0, 0}), {0, -1, 0})};
  cell.arm.links.resize(2);
  cell.arm.links[0].inertia = {m1, {l1, 0, 0}}, cell.arm.links[1].inertia = {m2, {l2, 0, 0}};
  cell.gravity = {0, 0, -g};
  const Model model = compile(cell);
  const Row tau = torques(model, {half_turn / 6, half_turn / 4}, {1, 2}, {3, -1.5});
  CHECK(tau[0] == Approx(15.754195).epsilon(1e-7));
  CHECK(tau[1] == Approx(1.82129136).epsilon(1e-8));
  // Level and at rest, m = (20, 15) kg, l = (1, 0.8) m: 461.07 and 117.72 N m.
  cell.arm.joints[1].placement = at({1, 0, 0});
  cell.arm.links[0].inertia = {20, {1, 0, 0}}, cell.arm.links[1].inertia = {15, {0.8, 0, 0}};
  const Row level = torques(compile(cell), {0, 0}, {0, 0}, {0, 0});
  CHECK(level[0] == Approx(461.07));
  CHECK(level[1] == Approx(117.72));
}

TEST_CASE("a mass that slides out on a turning arm: m d^2 and 2 m d v w (Coriolis), m w^2 d (centrifugal)") {
  CellSpec cell;
  cell.arm.joints = {joint("turn", identity_pose, {0, 0, 1}), joint("slide", identity_pose, {1, 0, 0}, 0, 2)};
  cell.arm.joints[1].kind = JointKind::prismatic;
  cell.arm.links.resize(2);
  cell.arm.links[1].inertia = {2.5, {0, 0, 0}};
  const double d = 0.8, w = 1.3, v = 0.7, dw = 2.1, a = -0.9;
  const Row tau = torques(compile(cell), {0.4, d}, {w, v}, {dw, a});
  CHECK(tau[0] == Approx(2.5 * (d * d * dw + 2 * d * v * w)));
  CHECK(tau[1] == Approx(2.5 * (a - w * w * d)));
}

TEST_CASE("a posture's torques: the same bits alone and anywhere in a batch") {
  Draw draw{4};
  const Model model = compile(any_cell(draw, 6));
  const std::size_t n = model.joint_count, rows = 6;
  const Row q = random_row(draw, rows * n, 3), v = random_row(draw, rows * n, 2), a = random_row(draw, rows * n, 2);
  const Row all = torques(model, q, v, a);
  for (std::size_t row = 0; row < rows; ++row) {
    const auto part = [&](const Row& of) { return Row(of.begin() + static_cast<long>(row * n), of.begin() + static_cast<long>((row + 1) * n)); };
    CHECK(torques(model, part(q), part(v), part(a)) == part(all));
  }
}
