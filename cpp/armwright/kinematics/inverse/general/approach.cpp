#include "armwright/kinematics/inverse/general/approach.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "armwright/kinematics/inverse/polish.hpp"

namespace armwright {

namespace {

Vector6 scaled_error(const Pose& target, const Pose& reached, double size) {
  const Vec3 p = (1 / size) * (target.position - reached.position);
  const Rotation &A = reached.rotation, &B = target.rotation;
  const Vec3 w = 0.5 * (cross(A.x, B.x) + cross(A.y, B.y) + cross(A.z, B.z));  // axis times sine
  // At half a turn the sine vanishes like at none: then any axis will do to get away.
  const bool opposite = dot(A.x, B.x) + dot(A.y, B.y) + dot(A.z, B.z) < -0.9 && norm(w) < 0.3;
  Vector6 e;
  e << p.x, p.y, p.z, w.x + (opposite ? 0.5 : 0), w.y, w.z;
  return e;
}

Matrix6 jacobian_of(const SixChain& chain, const ChainPosture& posture, double size, HeldJoints held) {
  Matrix6 J;
  for (int i = 0; i < 6; ++i) {
    const auto joint = static_cast<std::size_t>(i);
    const Vec3& z = posture.axis[joint].direction;
    if (held & (1U << i)) {
      J.col(i).setZero();
    } else if (slides(chain, joint)) {
      J.col(i) << z.x, z.y, z.z, 0, 0, 0;
    } else {
      const Vec3 v = (1 / size) * cross(z, posture.end.position - posture.axis[joint].point);
      J.col(i) << v.x, v.y, v.z, z.x, z.y, z.z;
    }
  }
  return J;
}

void step_by(const SixChain& chain, double size, HeldJoints held, const Vector6& way, std::array<double, 6>& q) {
  for (std::size_t i = 0; i < 6; ++i) {
    if (held & (1U << i)) continue;
    q[i] += way(static_cast<Eigen::Index>(i)) * (slides(chain, i) ? size : 1);
  }
}

constexpr double flat = 1e-5;  // singular values below are directions in which nothing moves

}  // namespace

Matrix6 scaled_jacobian(const SixChain& chain, const double* q, double size) {
  return jacobian_of(chain, chain_posture(chain, q), size, 0);
}

bool bring_to(const SixChain& chain, double size, const Pose& target, HeldJoints held, std::array<double, 6>& q) {
  for (int step = 0; step < 12; ++step) {
    const ChainPosture posture = chain_posture(chain, q.data());
    const Vector6 e = scaled_error(target, posture.end, size);
    if (e.norm() < 1e-14) break;
    Eigen::JacobiSVD<Matrix6> svd(jacobian_of(chain, posture, size, held), Eigen::ComputeFullU | Eigen::ComputeFullV);
    svd.setThreshold(flat);
    const Vector6 way = svd.solve(e);
    if (!(way.norm() < 0.5)) return false;
    step_by(chain, size, held, way, q);
    if (way.norm() < 1e-15) break;
  }
  return accepted(pose_error(chain, target, q.data()));
}

bool seek(const SixChain& chain, double size, const Pose& target, HeldJoints held, std::array<double, 6>& q) {
  double damping = 1e-2;
  ChainPosture posture = chain_posture(chain, q.data());
  Vector6 e = scaled_error(target, posture.end, size);
  for (int step = 0; step < 60 && e.norm() > 1e-14; ++step) {
    const Matrix6 J = jacobian_of(chain, posture, size, held);
    Matrix6 A = J.transpose() * J;
    A.diagonal().array() += damping * e.squaredNorm() + 1e-18;
    const Vector6 way = A.ldlt().solve(J.transpose() * e);
    const double length = way.norm();
    std::array<double, 6> next = q;
    step_by(chain, size, held, length > 0.7 ? Vector6(way * (0.7 / length)) : way, next);
    const ChainPosture there = chain_posture(chain, next.data());
    const Vector6 left = scaled_error(target, there.end, size);
    if (left.norm() < e.norm()) {
      if (left.norm() > 0.99 * e.norm() && step > 20) return false;
      q = next;
      posture = there;
      e = left;
      damping = std::fmax(1e-6, 0.2 * damping);
    } else {
      damping *= 8;
      if (damping > 1e12) break;
    }
  }
  return accepted(pose_error(chain, target, q.data()));
}

double apart(const SixChain& chain, double size, const std::array<double, 6>& a, const std::array<double, 6>& b) {
  double largest = 0;
  for (std::size_t i = 0; i < 6; ++i) largest = std::fmax(largest, std::fabs(between(chain, size, i, a[i], b[i])));
  return largest;
}

void add_answer(const SixChain& chain, Solutions& out, Solution s) {
  for (std::size_t i = 0; i < 6; ++i) {
    if (!slides(chain, i)) s.q[i] = wrapped(s.q[i]);
  }
  for (int k = 0; k < out.count; ++k) {
    Solution& there = out.solution[static_cast<std::size_t>(k)];
    if (apart(chain, 1, there.q, s.q) > same_answer) continue;
    if (there.free_joint < 0) there.free_joint = s.free_joint;
    return;
  }
  out.add(s);
}

}  // namespace armwright
