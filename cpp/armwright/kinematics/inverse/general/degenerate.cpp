#include "armwright/kinematics/inverse/general/degenerate.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "armwright/kinematics/inverse/general/approach.hpp"
#include "armwright/kinematics/inverse/polish.hpp"

namespace armwright {

namespace {

constexpr double singular = 1e-6;     // least singular value, unit lengths: below, a curve of answers is looked for
constexpr double probe = 0.05;        // rad: how far along
constexpr double longest_walk = 0.1;  // rad: a step towards free_value
constexpr double one_answer = 1e-2;   // rad: how far apart two approximations of one answer may lie

// The direction in which nothing moves to first order, largest entry 1; false if every direction moves the end.
bool still_direction(const SixChain& chain, double size, HeldJoints held, const std::array<double, 6>& q, Vector6& direction,
                     int& joint) {
  Matrix6 J = scaled_jacobian(chain, q.data(), size);
  Matrix6 kept = Matrix6::Zero();  // keeps held joints out of the way
  for (int i = 0; i < 6; ++i) {
    if (!(held & (1U << i))) continue;
    J.col(i).setZero();
    kept(i, i) = 1;
  }
  // Held columns become unit rows of the normal matrix; its least singular value is the square of the Jacobian's.
  const Eigen::JacobiSVD<Matrix6> svd(Matrix6(J.transpose() * J + kept), Eigen::ComputeFullV);
  if (svd.singularValues()(5) > singular * singular) return false;
  direction = svd.matrixV().col(5);
  const double largest = direction.cwiseAbs().maxCoeff();
  joint = 0;
  while (std::fabs(direction(joint)) < (1 - 1e-6) * largest) ++joint;
  direction /= direction(joint);
  for (int i = 0; i < 6; ++i) {
    if (held & (1U << i)) direction(i) = 0;
  }
  return true;
}

// Whether the still direction is the tangent of a curve of answers: two probes, both back on it and not back at q.
bool on_curve(const SixChain& chain, double size, HeldJoints held, const Pose& target, const std::array<double, 6>& q, const Vector6& direction) {
  for (const double share : {1.0, 0.5, -1.0}) {
    std::array<double, 6> there = q;
    for (std::size_t i = 0; i < 6; ++i) {
      there[i] += share * probe * direction(static_cast<Eigen::Index>(i)) * (slides(chain, i) ? size : 1);
    }
    const std::array<double, 6> aimed = there;
    if (!bring_to(chain, size, target, held, there)) return false;
    if (apart(chain, size, there, aimed) > 0.3 * std::fabs(share) * probe) return false;
  }
  return true;
}

void walk_to(const SixChain& chain, double size, HeldJoints held, const Pose& target, int joint, double value, std::array<double, 6>& q) {
  const auto j = static_cast<std::size_t>(joint);
  double step = longest_walk;
  for (int count = 0; count < 200; ++count) {
    const double left = between(chain, size, j, q[j], value);
    if (std::fabs(left) < 1e-15) return;
    std::array<double, 6> next = q;
    const double way = std::fabs(left) <= step ? left : (left > 0 ? step : -step);
    next[j] += way * (slides(chain, j) ? size : 1);
    if (bring_to(chain, size, target, held | (1U << joint), next) && apart(chain, size, next, q) < 3 * longest_walk) {
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
bool blurred(const SixChain& chain, double size, HeldJoints held, const Pose& target, const Solution& a, const Solution& b) {
  const double gap = apart(chain, size, a.q, b.q);
  if (gap > one_answer) return false;
  const double ends = size_of(pose_error(chain, target, a.q.data())) + size_of(pose_error(chain, target, b.q.data()));
  std::array<double, 6> middle;
  for (std::size_t i = 0; i < 6; ++i) {
    middle[i] = a.q[i] + 0.5 * between(chain, size, i, a.q[i], b.q[i]) * (slides(chain, i) ? size : 1);
  }
  const std::array<double, 6> aimed = middle;
  if (size_of(pose_error(chain, target, middle.data())) < 4 * ends + 1e-12) return true;
  bring_to(chain, size, target, held, middle);
  return apart(chain, size, middle, aimed) < 0.2 * gap && size_of(pose_error(chain, target, middle.data())) < 4 * ends + 1e-12;
}

}  // namespace

void settle_degenerate(const SixChain& chain, double size, const Pose& target, double free_value, Solutions& out,
                       unsigned held) {
  Solutions settled;
  for (int k = 0; k < out.count; ++k) {
    Solution s = out.solution[static_cast<std::size_t>(k)];
    Vector6 direction;
    int joint = -1;
    if (still_direction(chain, size, held, s.q, direction, joint) && on_curve(chain, size, held, target, s.q, direction)) {
      s.free_joint = static_cast<std::int8_t>(joint);
      walk_to(chain, size, held, target, joint, free_value, s.q);
    }
    bool there = false;
    for (int i = 0; i < settled.count && !there; ++i) {
      Solution& other = settled.solution[static_cast<std::size_t>(i)];
      there = blurred(chain, size, held, target, other, s);
      if (!there) continue;
      if (other.free_joint < 0 && s.free_joint >= 0) {
        other = s;
      } else if (other.free_joint < 0) {
        if (size_of(pose_error(chain, target, s.q.data())) < size_of(pose_error(chain, target, other.q.data()))) other = s;
      }
    }
    if (!there) add_answer(chain, settled, s);
  }
  out = settled;
}

}  // namespace armwright
