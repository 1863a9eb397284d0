#include "armwright/studies/track/stand.hpp"

#include <algorithm>
#include <cmath>

namespace armwright::track {

namespace {

// The same branch a little farther on.
bool follows(const Model& model, const Stand& a, const Stand& b) {
  for (std::size_t j = 1; j < model.joint_count; ++j)
    if (std::fabs(a.q[j] - b.q[j]) > 0.3) return false;
  return true;
}

struct Change {
  double turn, way;  // greatest of a joint, rad or m; of any point of the arm, m
};
Change between(const Model& model, const Stand& a, const Stand& b, double slid) {
  Change change{0, slid};
  for (std::size_t j = 1; j < model.joint_count; ++j) {
    const double turn = std::fabs(a.q[j] - b.q[j]);
    change.turn = std::max(change.turn, turn);
    change.way += turn * std::max(a.reach[j], b.reach[j]);
  }
  return change;
}

// Whether what two postures of a branch have to spare may fall below zero between them. Limits and torques are taken as
// going straight, give or take a quarter of the change; of distances only how far anything moves is used.
bool may_dip(const Model& model, const Stand& a, const Stand& b, double slid) {
  const auto [turn, way] = between(model, a, b, slid);
  return std::min(a.limit, b.limit) < 0.25 * turn || a.spare + b.spare < 1.25 * way || std::min(a.torque, b.torque) < 0.25 * std::fabs(a.torque - b.torque) + 0.1 * turn;
}

// Whether it may rise above zero between two that fall short.
bool may_peak(const Model& model, const Stand& a, const Stand& b, double slid) {
  const auto [turn, way] = between(model, a, b, slid);
  if (std::isinf(a.torque) || std::isinf(b.torque)) return false;  // far past a limit
  if (a.spare + b.spare < -1.25 * way || std::max(a.torque, b.torque) < -0.25 * std::fabs(a.torque - b.torque) - 0.1 * turn) return false;
  for (const double t : {0.0, 0.25, 0.5, 0.75, 1.0}) {
    std::array<double, max_joints> q;
    for (std::size_t j = 0; j < model.joint_count; ++j) q[j] = a.q[j] + t * (b.q[j] - a.q[j]);
    if (to_nearest_limit(model, q.data()) > -0.25 * turn) return true;
  }
  return false;
}

// Near where a branch ends its joints turn as the root of the way.
bool may_peak_beside_end(const Stand& a, double slid) {
  const double near = 6 * std::sqrt(slid);
  return a.limit > -near && a.spare > -near && a.torque > -near;
}

bool may_begin(const Model& model, const Sample& a, const Sample& b, double slid) {
  for (int i = 0; i < a.count; ++i) {
    const Stand& x = a.stand[static_cast<std::size_t>(i)];
    bool followed = false;
    for (int j = 0; j < b.count; ++j) {
      const Stand& y = b.stand[static_cast<std::size_t>(j)];
      if (!follows(model, x, y)) continue;
      followed = true;
      if (may_peak(model, x, y, slid)) return true;
    }
    if (!followed && may_peak_beside_end(x, slid)) return true;
  }
  return false;
}

}  // namespace

double to_nearest_limit(const Model& model, const double* q) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t j = 1; j < model.joint_count; ++j)
    if (model.upper[j] > model.lower[j]) least = std::min({least, q[j] - model.lower[j], model.upper[j] - q[j]});
  return least;
}

bool may_change(const Model& model, const Sample& a, const Sample& b) {
  const double slid = b.at - a.at;
  if (a.served) {
    for (int i = 0; i < a.count; ++i)
      for (int j = 0; j < b.count; ++j) {
        const Stand &x = a.stand[static_cast<std::size_t>(i)], &y = b.stand[static_cast<std::size_t>(j)];
        if (x.served && y.served && follows(model, x, y) && !may_dip(model, x, y, slid)) return false;
      }
    return true;
  }
  return may_begin(model, a, b, slid) || may_begin(model, b, a, slid);
}

}  // namespace armwright::track
