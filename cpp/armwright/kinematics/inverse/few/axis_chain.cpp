#include "armwright/kinematics/inverse/few/axis_chain.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "armwright/kinematics/inverse/solutions.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

using Jacobian = Eigen::Matrix<double, 6, Eigen::Dynamic, Eigen::ColMajor, 6, 6>;
using Values = Eigen::Matrix<double, Eigen::Dynamic, 1, Eigen::ColMajor, 6, 1>;
using Vector6 = Eigen::Matrix<double, 6, 1>;

JointAxis carried(const Pose& X, const JointAxis& axis) { return {X * axis.point, X.rotation * axis.direction, axis.kind}; }

// Columns in the base frame, for the end frame's origin; lengths in units of size.
Jacobian jacobian_at(const AxisChain& chain, const double* q, Pose& end) {
  Jacobian J(6, static_cast<Eigen::Index>(chain.count));
  std::array<JointAxis, 6> now;
  Pose X = identity_pose;
  for (std::size_t i = 0; i < chain.count; ++i) {
    now[i] = carried(X, chain.axis[i]);
    X = X * moved_by(chain.axis[i], q[i]);
  }
  end = X * chain.end;
  for (std::size_t i = 0; i < chain.count; ++i) {
    const Vec3 z = now[i].direction;
    const auto c = static_cast<Eigen::Index>(i);
    if (now[i].kind == JointKind::prismatic) {
      J.col(c) << z.x, z.y, z.z, 0, 0, 0;  // per size
    } else {
      const Vec3 v = (1 / chain.size) * cross(z, end.position - now[i].point);
      J.col(c) << v.x, v.y, v.z, z.x, z.y, z.z;
    }
  }
  return J;
}

Vector6 way_to(const AxisChain& chain, const Pose& target, const Pose& reached) {
  const Vec3 shift = (1 / chain.size) * (target.position - reached.position);
  const Rotation &A = reached.rotation, &B = target.rotation;
  const Vec3 twice = cross(A.x, B.x) + cross(A.y, B.y) + cross(A.z, B.z);
  const double sine = 0.5 * norm(twice), cosine = 0.5 * (dot(A.x, B.x) + dot(A.y, B.y) + dot(A.z, B.z) - 1);
  const double scale = sine > 1e-12 ? 0.5 * std::atan2(sine, cosine) / sine : 0.5;
  Vector6 way;
  way << shift.x, shift.y, shift.z, scale * twice.x, scale * twice.y, scale * twice.z;
  return way;
}

JointValues trial_posture(const AxisChain& chain, int index) {
  constexpr double step[6] = {0.41421356237, 0.73205080757, 0.23606797750, 0.64575131106, 0.31662479036, 0.60555127546};
  JointValues q{};
  for (std::size_t i = 0; i < chain.count; ++i) {
    q[i] = wrapped(6.283185307179586 * step[i] * (index + 1) + 0.1 * static_cast<double>(i));
    if (chain.axis[i].kind == JointKind::prismatic) q[i] *= 0.3 * chain.size;
  }
  return q;
}

}  // namespace

Pose moved_by(const JointAxis& axis, double value) {
  if (axis.kind == JointKind::prismatic) return {no_rotation, value * axis.direction};
  const Rotation R = turn_about(axis.direction, value);
  return {R, axis.point - R * axis.point};
}

Pose axis_chain_end(const AxisChain& chain, const double* q) {
  Pose X = identity_pose;
  for (std::size_t i = 0; i < chain.count; ++i) X = X * moved_by(chain.axis[i], q[i]);
  return X * chain.end;
}

double size_of(const AxisChain& chain) {
  double length = 0;
  for (std::size_t i = 1; i < chain.count; ++i) length += norm(chain.axis[i].point - chain.axis[i - 1].point);
  if (chain.count > 0) length += norm(chain.end.position - chain.axis[chain.count - 1].point);
  return std::max(length, 1e-3);
}

// X⁻¹ = end⁻¹ En(-qn) ... E1(-q1): each axis seen from the end frame, and the other way round.
AxisChain reversed(const AxisChain& chain) {
  AxisChain result = chain;
  const Pose back = inverse(chain.end);
  for (std::size_t i = 0; i < chain.count; ++i) {
    JointAxis& axis = result.axis[i] = carried(back, chain.axis[chain.count - 1 - i]);
    axis.direction = -axis.direction;
  }
  result.end = back;
  return result;
}

AxisChain without(const AxisChain& chain, std::size_t which, double value) {
  AxisChain result = chain;
  const Pose X = moved_by(chain.axis[which], value);
  for (std::size_t i = which + 1; i < chain.count; ++i) result.axis[i - 1] = carried(X, chain.axis[i]);
  --result.count;
  result.end = X * chain.end;
  return result;
}

std::size_t rank_at(const AxisChain& chain, const double* q) {
  if (chain.count == 0) return 0;
  Pose end;
  const Eigen::JacobiSVD<Jacobian> svd(jacobian_at(chain, q, end));
  std::size_t rank = 0;
  for (Eigen::Index i = 0; i < svd.singularValues().size(); ++i) rank += svd.singularValues()(i) > 1e-6;
  return rank;
}

std::size_t usual_rank(const AxisChain& chain) {
  std::size_t rank = 0;
  for (int k = 0; k < 4; ++k) rank = std::max(rank, rank_at(chain, trial_posture(chain, k).data()));
  return rank;
}

StillMotions still_motions(const AxisChain& chain, const double* q, double still) {
  Pose end;
  const Eigen::JacobiSVD<Jacobian> svd(jacobian_at(chain, q, end), Eigen::ComputeFullV);
  const auto n = static_cast<Eigen::Index>(chain.count);
  StillMotions motions;
  motions.least = svd.singularValues()(n - 1);
  for (Eigen::Index k = 0; k < n; ++k) {
    if (svd.singularValues()(k) > still) continue;
    for (Eigen::Index i = 0; i < n; ++i)
      for (Eigen::Index j = 0; j < n; ++j)
        motions.of[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)] += svd.matrixV()(i, k) * svd.matrixV()(j, k);
  }
  return motions;
}

bool fit(const AxisChain& chain, const Pose& target, JointValues& q, int most_steps, int held) {
  const auto n = static_cast<Eigen::Index>(chain.count);
  Pose end;
  Jacobian J = jacobian_at(chain, q.data(), end);
  Vector6 way = way_to(chain, target, end);
  double error = way.squaredNorm(), damping = 1e-8;
  for (int step = 0, vain = 0; step < most_steps && error > 1e-31 && vain < 8; ++step) {
    if (held >= 0) J.col(held).setZero();
    Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, 6, 6> normal = J.transpose() * J;
    normal.diagonal().array() += damping;
    Values move = normal.ldlt().solve(J.transpose() * way);
    const double longest = move.cwiseAbs().maxCoeff();
    if (!(longest < 1e6)) return false;
    if (longest > 0.5) move *= 0.5 / longest;
    JointValues next = q;
    for (Eigen::Index i = 0; i < n; ++i) {
      const auto k = static_cast<std::size_t>(i);
      if (i != held) next[k] += move(i) * (chain.axis[k].kind == JointKind::prismatic ? chain.size : 1.0);
    }
    const Jacobian there = jacobian_at(chain, next.data(), end);
    const Vector6 left = way_to(chain, target, end);
    const double its = left.squaredNorm();
    if (its < error) {
      vain = its > 0.9 * error && error < 1e-24 ? vain + 1 : 0;
      q = next, J = there, way = left, error = its;
      damping = std::max(damping * 0.1, 1e-15);
    } else {
      ++vain;
      damping = std::max(damping * 20, 1e-12);
    }
  }
  for (std::size_t i = 0; i < chain.count; ++i)
    if (chain.axis[i].kind == JointKind::revolute && static_cast<int>(i) != held) q[i] = wrapped(q[i]);
  return accepted(pose_error(axis_chain_end(chain, q.data()), target));
}

bool same(const AxisChain& chain, const JointValues& a, const JointValues& b, double apart) {
  for (std::size_t i = 0; i < chain.count; ++i) {
    const bool slides = chain.axis[i].kind == JointKind::prismatic;
    if (std::fabs(slides ? (a[i] - b[i]) / chain.size : wrapped(a[i] - b[i])) > apart) return false;
  }
  return true;
}

}  // namespace armwright
