#include "armwright/elements/bolt_slip.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include <Eigen/Dense>

namespace armwright {

namespace {

constexpr int most_rounds = 300;
constexpr double close_enough = 1e-3, slowest = 1e-6;

// Rows that take a motion (vx, vy, w length) to the velocity of a bolt at (x, y) from the middle, in lengths.
Eigen::Vector2d velocity(const Eigen::Vector3d& z, double x, double y) { return {z[0] - z[2] * y, z[1] + z[2] * x}; }

Eigen::Matrix3d stiffness(std::span<const Point2> at, std::span<const double> k) {
  Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();
  for (std::size_t i = 0; i < at.size(); ++i) {
    Eigen::Matrix<double, 2, 3> rows;
    rows << 1, 0, -at[i].y, 0, 1, at[i].x;
    sum += k[i] * rows.transpose() * rows;
  }
  return sum;
}

}  // namespace

SlipSafety slip_safety(const BoltGroup& group, std::span<const double> clamps, double friction, const FaceLoad& load) {
  constexpr double unlimited = std::numeric_limits<double>::infinity();
  double total = 0, x = 0, y = 0, square = 0;
  for (std::size_t i = 0; i < clamps.size(); ++i) total += clamps[i], x += clamps[i] * group.points[i].x, y += clamps[i] * group.points[i].y;
  if (load.fx == 0 && load.fy == 0 && load.mz == 0) return {unlimited, unlimited};
  if (!(total > 0)) return {0, 0};
  x /= total, y /= total;
  std::vector<Point2> at(clamps.size());
  for (std::size_t i = 0; i < clamps.size(); ++i) {
    at[i] = {group.points[i].x - x, group.points[i].y - y};
    square += clamps[i] / total * (at[i].x * at[i].x + at[i].y * at[i].y);
  }
  const double torsion = load.mz - x * load.fy + y * load.fx, force = std::hypot(load.fx, load.fy), length = std::sqrt(square);
  if (!(length > 0)) {
    const bool turns = std::fabs(torsion) > 1e-9 * (std::fabs(load.mz) + std::hypot(x, y) * force);
    return turns ? SlipSafety{0, 0} : SlipSafety{friction * total / force, friction * total / force};
  }
  for (Point2& p : at) p.x /= length, p.y /= length;
  const Eigen::Vector3d wanted(load.fx, load.fy, torsion / length);
  std::vector<double> k(clamps.begin(), clamps.end());
  SlipSafety found{0, unlimited};
  for (int round = 0; round < most_rounds && !(found.bound - found.safe <= close_enough * found.safe); ++round) {
    const Eigen::Vector3d z = stiffness(at, k).ldlt().solve(wanted);
    if (!z.allFinite()) break;
    double safe = unlimited, work = 0, fastest = 0;
    for (std::size_t i = 0; i < at.size(); ++i) {
      const double speed = velocity(z, at[i].x, at[i].y).norm();
      if (clamps[i] > 0 && speed > 0) safe = std::min(safe, clamps[i] / (k[i] * speed));
      work += clamps[i] * speed;
      fastest = std::max(fastest, speed);
    }
    found.safe = std::max(found.safe, safe);
    found.bound = std::min(found.bound, work / wanted.dot(z));
    for (std::size_t i = 0; i < at.size(); ++i) k[i] = clamps[i] / std::max(velocity(z, at[i].x, at[i].y).norm() / fastest, slowest);
  }
  return {friction * found.safe, friction * found.bound};
}

}  // namespace armwright
