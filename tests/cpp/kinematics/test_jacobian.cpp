#include "armwright/kinematics/jacobian.hpp"

#include <Eigen/SVD>
#include <algorithm>

#include "armwright/kinematics/joint_range.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// By central differences of the slow frames; angular from the turn between them.
Eigen::MatrixXd differences(const CellSpec& cell, std::vector<double> q) {
  constexpr double h = 1e-5;
  Eigen::MatrixXd J(6, static_cast<Eigen::Index>(q.size()));
  for (std::size_t i = 0; i < q.size(); ++i) {
    const double at = q[i];
    q[i] = at + h;
    const Pose up = slow_frames(cell, q.data()).tool;
    q[i] = at - h;
    const Pose down = slow_frames(cell, q.data()).tool;
    q[i] = at;
    const Vec3 v = (0.5 / h) * (up.position - down.position);
    const Rotation R = up.rotation * transpose(down.rotation);
    const Vec3 w = (0.25 / h) * Vec3{R.y.z - R.z.y, R.z.x - R.x.z, R.x.y - R.y.x};
    J.col(static_cast<Eigen::Index>(i)) << v.x, v.y, v.z, w.x, w.y, w.z;
  }
  return J;
}

Eigen::MatrixXd jacobian(const Model& model, const std::vector<double>& q) {
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> J(6, static_cast<Eigen::Index>(q.size()));
  jacobians(model, q, {J.data(), 6 * q.size()});
  return J;
}

double one(const Model& model, const std::vector<double>& q, Motion motion) {
  double w = -1;
  manipulabilities(model, q, motion, {&w, 1});
  return w;
}

}  // namespace

TEST_CASE("the Jacobian is the derivative of the tool's pose") {
  Draw draw{1};
  for (std::size_t joints = 1; joints <= 12; ++joints) {
    CellSpec cell = random_cell(draw, joints, joints % 2 == 1);
    if (joints % 3 == 0 && joints < 12) cell.track = random_track(draw);
    const Model model = compile(cell);
    std::vector<double> q(model.joint_count);
    for (double& x : q) x = draw.uniform(-3, 3);
    CHECK((jacobian(model, q) - differences(cell, q)).cwiseAbs().maxCoeff() < 1e-8);
  }
}

TEST_CASE("manipulability is the product of the singular values, of all rows or of some") {
  Draw draw{2};
  for (std::size_t joints = 1; joints <= 9; ++joints) {
    const CellSpec cell = random_cell(draw, joints, true);
    const Model model = compile(cell);
    std::vector<double> q(joints);
    for (double& x : q) x = draw.uniform(-3, 3);
    const Eigen::MatrixXd J = jacobian(model, q);
    const auto product = [](const Eigen::MatrixXd& A) { return Eigen::JacobiSVD<Eigen::MatrixXd>(A).singularValues().prod(); };
    CHECK(one(model, q, Motion::all) == Approx(product(J)).epsilon(1e-9).margin(1e-12));
    CHECK(one(model, q, Motion::translation) == Approx(product(J.topRows(3))).epsilon(1e-9).margin(1e-9));
    if (joints < 4) continue;  // slides make fewer than three turning joints
    CHECK(one(model, q, Motion::rotation) == Approx(product(J.bottomRows(3))).epsilon(1e-9).margin(1e-9));
    Eigen::MatrixXd scaled = J;
    scaled.bottomRows(3) *= 0.4;
    const auto values = Eigen::JacobiSVD<Eigen::MatrixXd>(scaled).singularValues();
    double found[2];
    singular_values(model, q, 0.4, found);
    CHECK(found[0] == Approx(values.minCoeff()).epsilon(1e-9).margin(1e-12));
    CHECK(found[1] == Approx(values.maxCoeff()).epsilon(1e-9));
  }
}

TEST_CASE("two links: w = l1 l2 |sin q2| (Yoshikawa 1985)") {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, 0, 1}), joint("axis 2", at({0.45, 0, 0}), {0, 0, 1})};
  cell.arm.links.resize(2);
  cell.arm.flange = at({0.3, 0, 0});
  const Model model = compile(cell);
  for (double q2 = -3.2; q2 < 3.2; q2 += 0.1) CHECK(one(model, {0.7, q2}, Motion::translation) == Approx(0.45 * 0.3 * std::fabs(std::sin(q2))).margin(1e-9));
  CHECK(one(model, {0.2, 0.0}, Motion::translation) < 1e-8);
}

TEST_CASE("a posture's Jacobian: the same bits alone and anywhere in a batch") {
  Draw draw{3};
  for (const std::size_t n : {2, 3, 4, 5, 6, 7, 9}) {
    const Model model = compile(random_cell(draw, n));
    const std::size_t rows = 6;
    std::vector<double> q(rows * n), J(rows * 6 * n), w(rows), alone(6 * n);
    for (double& x : q) x = draw.uniform(-3, 3);
    jacobians(model, q, J);
    manipulabilities(model, q, Motion::all, w);
    for (std::size_t row = 0; row < rows; ++row) {
      const std::vector<double> here(q.begin() + static_cast<long>(row * n), q.begin() + static_cast<long>((row + 1) * n));
      jacobians(model, here, alone);
      CHECK(std::equal(alone.begin(), alone.end(), J.begin() + static_cast<long>(row * 6 * n)));
      CHECK(one(model, here, Motion::all) == w[row]);
    }
  }
}

TEST_CASE("the limit margin is 1 at mid-range, 0 at a limit, negative beyond, and the least joint's") {
  CellSpec cell = positioner(0, 0.5, 0.5);
  cell.arm.joints[0].lower = -1, cell.arm.joints[0].upper = 3;
  for (std::size_t i = 2; i < 6; ++i) cell.arm.joints[i].lower = -unlimited, cell.arm.joints[i].upper = unlimited;
  const Model model = compile(cell);
  const auto margin = [&](double a, double b) {
    const double q[6] = {a, b, 100, -100, 0, 0};
    double out;
    limit_margins(model, q, {&out, 1});
    CHECK(out == limit_margin(model, q));
    return out;
  };
  CHECK(margin(1, 0) == 1);
  CHECK(margin(3, 0) == 0);
  CHECK(margin(-1, 0) == 0);
  CHECK(margin(2, 0) == Approx(0.5));
  CHECK(margin(2, 0.75 * half_turn) == Approx(0.25));
  CHECK(margin(3.4, 0) == Approx(-0.2));
  CHECK(margin(1, -1.5 * half_turn) == Approx(-0.5));
  // A track that is held has no margin to lose, and an arm without limits always has all of it.
  cell.track = TrackSpec{};
  cell.track->upper = 1;
  const double held[7] = {0.3, 1, 0, 0, 0, 0, 0};
  CHECK(limit_margin(held_on_track(compile(cell), 0.3), held) == 1);
  for (auto& j : cell.arm.joints) j.lower = -unlimited, j.upper = unlimited;
  CHECK(limit_margin(held_on_track(compile(cell), 0.3), held) == 1);
}
