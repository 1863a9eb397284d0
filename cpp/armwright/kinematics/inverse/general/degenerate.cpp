#include "armwright/kinematics/inverse/general/degenerate.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

using Vector6 = Eigen::Matrix<double, 6, 1>;
using Matrix6 = Eigen::Matrix<double, 6, 6>;

constexpr double singular = 1e-6;     // least singular value, unit lengths: below, a curve of answers is looked for
constexpr double probe = 0.05;        // rad: how far along
constexpr double longest_walk = 0.1;  // rad: a step towards free_value
constexpr double one_answer = 1e-2;   // rad: how far apart two approximations of one answer may lie

Matrix6 scaled_jacobian(const ChainPosture& posture, double size) {
  Matrix6 J;
  for (int i = 0; i < 6; ++i) {
    const AxisLine& axis = posture.axis[static_cast<std::size_t>(i)];
    const Vec3& z = axis.direction;
    const Vec3 v = (1 / size) * cross(z, posture.end.position - axis.point);
    J.col(i) << v.x, v.y, v.z, z.x, z.y, z.z;
  }
  return J;
}

Vector6 scaled_error(const Pose& target, const Pose& reached, double size) {
  const Vec3 p = (1 / size) * (target.position - reached.position);
  const Rotation &A = reached.rotation, &B = target.rotation;
  const Vec3 w = 0.5 * (cross(A.x, B.x) + cross(A.y, B.y) + cross(A.z, B.z));  // axis times sine
  Vector6 e;
  e << p.x, p.y, p.z, w.x, w.y, w.z;
  return e;
}

bool holds(const SixChain& chain, const Pose& target, const std::array<double, 6>& q) {
  return accepted(pose_error(chain, target, q.data()));
}

double apart(const std::array<double, 6>& a, const std::array<double, 6>& b) {
  double largest = 0;
  for (std::size_t i = 0; i < 6; ++i) largest = std::fmax(largest, std::fabs(wrapped(a[i] - b[i])));
  return largest;
}

// From a posture near the curve back to it, the way of least length (Gauss and Newton).
bool back_to_curve(const SixChain& chain, double size, const Pose& target, int held, std::array<double, 6>& q) {
  for (int step = 0; step < 12; ++step) {
    const ChainPosture posture = chain_posture(chain, q.data());
    const Vector6 e = scaled_error(target, posture.end, size);
    if (e.norm() < 1e-14) break;
    Matrix6 J = scaled_jacobian(posture, size);
    if (held >= 0) J.col(held).setZero();
    Eigen::JacobiSVD<Matrix6> svd(J, Eigen::ComputeFullU | Eigen::ComputeFullV);
    svd.setThreshold(1e-5);
    const Vector6 way = svd.solve(e);
    if (!(way.norm() < 0.5)) return false;
    for (std::size_t i = 0; i < 6; ++i) q[i] += way(static_cast<Eigen::Index>(i));
    if (way.norm() < 1e-15) break;
  }
  return holds(chain, target, q);
}

// The direction in which nothing moves to first order, largest entry 1; false if every direction moves the end.
bool still_direction(const SixChain& chain, double size, const std::array<double, 6>& q, Vector6& direction, int& joint) {
  const Eigen::JacobiSVD<Matrix6> svd(scaled_jacobian(chain_posture(chain, q.data()), size), Eigen::ComputeFullV);
  if (svd.singularValues()(5) > singular) return false;
  direction = svd.matrixV().col(5);
  const double largest = direction.cwiseAbs().maxCoeff();
  joint = 0;
  while (std::fabs(direction(joint)) < (1 - 1e-6) * largest) ++joint;
  direction /= direction(joint);
  return true;
}

// Whether the still direction is the tangent of a curve of answers: two probes, both back on it and not back at q.
bool on_curve(const SixChain& chain, double size, const Pose& target, const std::array<double, 6>& q, const Vector6& direction) {
  for (const double share : {1.0, 0.5, -1.0}) {
    std::array<double, 6> there = q;
    for (std::size_t i = 0; i < 6; ++i) there[i] += share * probe * direction(static_cast<Eigen::Index>(i));
    const std::array<double, 6> aimed = there;
    if (!back_to_curve(chain, size, target, -1, there)) return false;
    if (apart(there, aimed) > 0.3 * std::fabs(share) * probe) return false;
  }
  return true;
}

void walk_to(const SixChain& chain, double size, const Pose& target, int joint, double value, std::array<double, 6>& q) {
  const auto j = static_cast<std::size_t>(joint);
  double step = longest_walk;
  for (int count = 0; count < 200; ++count) {
    const double left = wrapped(value - q[j]);
    if (std::fabs(left) < 1e-15) return;
    std::array<double, 6> next = q;
    next[j] = std::fabs(left) <= step ? q[j] + left : q[j] + (left > 0 ? step : -step);
    if (back_to_curve(chain, size, target, joint, next) && apart(next, q) < 3 * longest_walk) {
      q = next;
      step = std::fmin(longest_walk, 2 * step);
    } else {
      step *= 0.25;
      if (step < 1e-4) return;
    }
  }
}

double size_of(const PoseError& e) { return e.position + e.rotation; }

// Two approximations of one answer: between them lies a valley whose bottom holds the pose as well as they do. Of two
// different answers the middle is drawn to one or the other, or holds the pose worse.
bool blurred(const SixChain& chain, double size, const Pose& target, const Solution& a, const Solution& b) {
  const double gap = apart(a.q, b.q);
  if (gap > one_answer) return false;
  const double ends = size_of(pose_error(chain, target, a.q.data())) + size_of(pose_error(chain, target, b.q.data()));
  std::array<double, 6> middle;
  for (std::size_t i = 0; i < 6; ++i) middle[i] = a.q[i] + 0.5 * wrapped(b.q[i] - a.q[i]);
  const std::array<double, 6> aimed = middle;
  if (size_of(pose_error(chain, target, middle.data())) < 4 * ends + 1e-12) return true;
  back_to_curve(chain, size, target, -1, middle);
  return apart(middle, aimed) < 0.2 * gap && size_of(pose_error(chain, target, middle.data())) < 4 * ends + 1e-12;
}

}  // namespace

bool bring_to(const SixChain& chain, double size, const Pose& target, std::array<double, 6>& q) {
  return back_to_curve(chain, size, target, -1, q) || polish(chain, target, q.data());
}

void settle_degenerate(const SixChain& chain, double size, const Pose& target, double free_value, Solutions& out) {
  Solutions settled;
  for (int k = 0; k < out.count; ++k) {
    Solution s = out.solution[static_cast<std::size_t>(k)];
    Vector6 direction;
    int joint = -1;
    if (still_direction(chain, size, s.q, direction, joint) && on_curve(chain, size, target, s.q, direction)) {
      s.free_joint = static_cast<std::int8_t>(joint);
      walk_to(chain, size, target, joint, free_value, s.q);
      for (double& x : s.q) x = wrapped(x);
    }
    bool there = false;
    for (int i = 0; i < settled.count && !there; ++i) {
      Solution& other = settled.solution[static_cast<std::size_t>(i)];
      there = blurred(chain, size, target, other, s);
      if (!there) continue;
      if (other.free_joint < 0 && s.free_joint >= 0) {
        other = s;
      } else if (other.free_joint < 0) {
        if (size_of(pose_error(chain, target, s.q.data())) < size_of(pose_error(chain, target, other.q.data()))) other = s;
      }
    }
    if (!there) add_distinct(settled, s);
  }
  out = settled;
}

}  // namespace armwright
