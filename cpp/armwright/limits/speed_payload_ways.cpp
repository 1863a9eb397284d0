#include "armwright/limits/speed_payload_ways.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <Eigen/QR>
#include <Eigen/SVD>
#include <algorithm>

#include "armwright/kinematics/jacobian_columns.hpp"

namespace armwright {

namespace {

constexpr double most_per_metre = 1e9;  // joint acceleration by tool acceleration, from which on a posture counts as singular
constexpr double rank_share = 1e-7;     // of the greatest singular value

using ToolRows = Eigen::Matrix<double, 6, Eigen::Dynamic, 0, 6, max_joints>;
using Rows3 = Eigen::Matrix<double, 3, Eigen::Dynamic, 0, 3, max_joints>;

ToolRows moving_jacobian(const Model& model, const std::vector<std::size_t>& moving, const Pose* frames) {
  JacobianColumn<double> columns[max_joints];
  jacobian_columns(model, frames, columns);
  ToolRows J(6, static_cast<Eigen::Index>(moving.size()));
  for (std::size_t j = 0; j < moving.size(); ++j) {
    const auto& [v, w] = columns[moving[j]];
    J.col(static_cast<Eigen::Index>(j)) << v.x, v.y, v.z, w.x, w.y, w.z;
  }
  return J;
}

// Square or wide Jacobian of full rank in general. With more joints than six: least kinetic energy, by way of
// y = Lᵀ q̈, inertia = L Lᵀ, in which that energy is |y|²/2.
bool solve_all(const ToolRows& J, const Eigen::LLT<JointMatrix>* factor, JointMap& along, JointMap& about) {
  const Eigen::Index n = J.cols();
  Eigen::Matrix<double, Eigen::Dynamic, 6, 0, max_joints, 6> X(n, 6);
  if (n == 6) {
    X = Eigen::PartialPivLU<Eigen::Matrix<double, 6, 6>>(Eigen::Matrix<double, 6, 6>(J)).inverse();
  } else {
    Eigen::Matrix<double, Eigen::Dynamic, 6, 0, max_joints, 6> B = J.transpose();
    factor->matrixL().solveInPlace(B);  // (J L⁻ᵀ)ᵀ = L⁻¹ Jᵀ
    const Eigen::Matrix<double, 6, 6> gram = B.transpose() * B;
    X = B * Eigen::PartialPivLU<Eigen::Matrix<double, 6, 6>>(gram).inverse();
    factor->matrixU().solveInPlace(X);
  }
  along = X.leftCols<3>();
  about = X.rightCols<3>();
  return X.allFinite() && X.cwiseAbs().maxCoeff() < most_per_metre;
}

// Fewer freedoms than a pose has: the tool point first, then as little turning as can be, then least kinetic energy.
bool solve_few(const ToolRows& J, const Eigen::LLT<JointMatrix>& factor, Eigen::Index translations, JointMap& along) {
  Eigen::Matrix<double, Eigen::Dynamic, 6, 0, max_joints, 6> B = J.transpose();
  factor.matrixL().solveInPlace(B);
  const Rows3 point = B.leftCols<3>().transpose(), turn = B.rightCols<3>().transpose();
  const Eigen::JacobiSVD<Rows3> svd(point, Eigen::ComputeFullU | Eigen::ComputeFullV);
  const auto& values = svd.singularValues();
  if (translations == 0 || translations > values.size() || !(values[translations - 1] > 1e-9 * values[0])) return false;
  const JointMap first = svd.matrixV().leftCols(translations) * values.head(translations).cwiseInverse().asDiagonal() *
                                svd.matrixU().leftCols(translations).transpose();
  JointMap y = first;
  const Eigen::Index left = J.cols() - translations;
  if (left > 0) {
    const JointMatrix free = svd.matrixV().rightCols(left);
    const Rows3 turned = turn * free;
    Eigen::CompleteOrthogonalDecomposition<Rows3> least;
    least.setThreshold(rank_share);
    least.compute(turned);
    y -= free * least.solve(turn * first);
  }
  along = y;
  factor.matrixU().solveInPlace(along);
  return along.allFinite() && along.cwiseAbs().maxCoeff() < most_per_metre;
}

}  // namespace

ToolWays tool_ways(const MovingSetup& setup, const std::vector<std::size_t>& moving, const Pose* frames, const JointMatrix& inertia) {
  const Model& model = *setup.model;
  const auto n = static_cast<Eigen::Index>(model.joint_count), m = static_cast<Eigen::Index>(moving.size());
  ToolWays ways;
  ways.along = JointMap::Zero(n, 3);
  ways.about = JointMap::Zero(n, 3);
  const ToolRows J = moving_jacobian(model, moving, frames);
  Eigen::LLT<JointMatrix> factor;
  if (!setup.all_freedoms || m != 6) {
    JointMatrix M(m, m);
    for (Eigen::Index i = 0; i < m; ++i)
      for (Eigen::Index j = 0; j < m; ++j)
        M(i, j) = inertia(static_cast<Eigen::Index>(moving[static_cast<std::size_t>(i)]), static_cast<Eigen::Index>(moving[static_cast<std::size_t>(j)]));
    const double most = m > 0 ? M.diagonal().maxCoeff() : 0;
    M.diagonal().array() += most > 0 ? 1e-12 * most : 1;  // links without mass
    factor.compute(M);
  }
  JointMap along(m, 3), about = JointMap::Zero(m, 3);
  ways.singular = !(setup.all_freedoms ? solve_all(J, &factor, along, about)
                                       : solve_few(J, factor, static_cast<Eigen::Index>(setup.translations), along));
  for (Eigen::Index j = 0; j < m; ++j) {
    ways.along.row(static_cast<Eigen::Index>(moving[static_cast<std::size_t>(j)])) = along.row(j);
    ways.about.row(static_cast<Eigen::Index>(moving[static_cast<std::size_t>(j)])) = about.row(j);
  }
  return ways;
}

ToolFreedoms tool_freedoms(const Model& model, const std::vector<std::size_t>& moving) {
  ToolFreedoms freedoms{0, 0};
  if (moving.empty()) return freedoms;
  const auto rank = [](const Eigen::MatrixXd& A) {
    Eigen::JacobiSVD<Eigen::MatrixXd> svd(A);
    svd.setThreshold(rank_share);
    return static_cast<std::size_t>(svd.rank());
  };
  for (int posture = 0; posture < 7; ++posture) {
    double q[max_joints];
    for (std::size_t i = 0; i < model.joint_count; ++i) {
      const bool ranged = std::isfinite(model.upper[i] - model.lower[i]);
      const double low = ranged ? model.lower[i] : -3, high = ranged ? model.upper[i] : 3;
      // Shares of the range that no symmetry of an arm makes special: fractions of multiples of the square root of 2.
      const double share = std::fmod(1.41421356237 * (1 + posture * 5 + 3 * static_cast<double>(i)), 1.0);
      q[i] = low + (0.1 + 0.8 * share) * (high - low);
    }
    Pose frames[max_joints];
    joint_frames(model, q, frames);
    const ToolRows J = moving_jacobian(model, moving, frames);
    freedoms.translations = std::max(freedoms.translations, rank(J.topRows<3>()));
    freedoms.all = std::max(freedoms.all, rank(J));
  }
  return freedoms;
}

}  // namespace armwright
