#include "armwright/motion/follow.hpp"

#include <Eigen/LU>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "armwright/kinematics/jacobian_columns.hpp"
#include "armwright/kinematics/joint_range.hpp"
#include "armwright/motion/tool_rates.hpp"

namespace armwright {

namespace {

constexpr double metres_a_radian = 0.3;  // angular rows of the Jacobian against linear ones
constexpr double nothing = 1e-10;        // share of the greatest joint rate that is rounding

struct State {
  double s = 0;
  double condition = 1;  // inverse condition of the Jacobian
  bool mirrored = false; // sign of its determinant: a way clear of singular postures keeps it
  std::array<double, max_joints> q{}, first{}, second{};
};

using Columns = Eigen::Matrix<double, 6, Eigen::Dynamic, Eigen::ColMajor, 6, 6>;
using Vector6 = Eigen::Matrix<double, 6, 1>;

Vector6 stacked(const Vec3& linear, const Vec3& angular) {
  Vector6 v;
  v << linear.x, linear.y, linear.z, metres_a_radian * angular.x, metres_a_radian * angular.y, metres_a_radian * angular.z;
  return v;
}

struct Follower {
  const ArmInverse& inverse;
  const Followed& path;
  State from;                  // where it starts
  std::size_t n;
  HeldArm fixed;               // where the held joints stay, the arm as the inverse takes it
  ArmSolutions solutions;
  PathStop stop;

  double track_rate() const {
    const Model& model = inverse.model;
    return model.has_track && !std::isnan(path.track_to) ? (path.track_to - from.q[0]) / path.curve.extent : 0;
  }

  HeldArm held_at(double s) const {
    std::array<double, max_joints> values;
    for (std::size_t r = 0; r < inverse.redundant.size(); ++r) {
      const std::size_t joint = inverse.redundant[r];
      values[r] = from.q[joint] + (inverse.model.has_track && joint == 0 ? track_rate() * s : 0);
    }
    return hold(inverse, {values.data(), inverse.redundant.size()});
  }

  bool fail(PathTrouble trouble, double s, std::int32_t axis = -1, double value = 0) {
    stop = {trouble, -1, axis, s / path.curve.extent, value};
    return false;
  }

  // Joint rates at a posture that stands already.
  bool set_rates(State& at) {
    const Model& model = inverse.model;
    std::array<Pose, max_joints> frames;
    std::array<JacobianColumn<double>, max_joints> columns;
    joint_frames(model, at.q.data(), frames.data());
    jacobian_columns(model, frames.data(), columns.data());
    const std::size_t m = inverse.solved.size();
    Columns J(6, static_cast<Eigen::Index>(m));
    for (std::size_t k = 0; k < m; ++k) J.col(static_cast<Eigen::Index>(k)) = stacked(columns[inverse.solved[k]].linear, columns[inverse.solved[k]].angular);
    const Eigen::ColPivHouseholderQR<Columns> qr(J);
    const auto& R = qr.matrixR();
    const double condition = std::fabs(R(static_cast<Eigen::Index>(m) - 1, static_cast<Eigen::Index>(m) - 1)) / std::fabs(R(0, 0));
    at.condition = condition;
    if (!(condition >= least_inverse_condition)) return fail(PathTrouble::singular, at.s, -1, condition);
    if (m == 6) at.mirrored = Eigen::Matrix<double, 6, 6>(J).determinant() < 0;
    at.first.fill(0);
    at.second.fill(0);
    const CurveRates wanted = rates_at(path.curve, at.s);
    if (model.has_track && !inverse.redundant.empty() && inverse.redundant[0] == 0) at.first[0] = track_rate();
    const ToolRates moved = tool_rates(model, frames.data(), at.first.data(), at.second.data());  // by the track alone
    const Vector6 first = qr.solve(stacked(wanted.linear - moved.linear, wanted.angular - moved.angular));
    double most = std::fabs(at.first[0]);
    for (std::size_t k = 0; k < m; ++k) most = std::max(most, std::fabs(first[static_cast<Eigen::Index>(k)]));
    for (std::size_t k = 0; k < m; ++k) {
      const double rate = first[static_cast<Eigen::Index>(k)];
      at.first[inverse.solved[k]] = std::fabs(rate) > nothing * most ? rate : 0;
    }
    const ToolRates bias = tool_rates(model, frames.data(), at.first.data(), at.second.data());
    const Vector6 second = qr.solve(stacked(wanted.linear_next - bias.linear_next, -bias.angular_next));
    for (std::size_t k = 0; k < m; ++k) at.second[inverse.solved[k]] = second[static_cast<Eigen::Index>(k)];
    return true;
  }

  // The solution nearest to where the posture was heading; how far off it is, or -1 if there is none.
  double nearest(const State& before, State& at) {
    const double h = at.s - before.s;
    std::array<double, max_joints> ahead;
    for (std::size_t i = 0; i < n; ++i) ahead[i] = before.q[i] + h * (before.first[i] + 0.5 * h * before.second[i]);
    const Pose target = pose_at(path.curve, at.s);
    if (track_rate() == 0) solve_arm(inverse, fixed, target, solutions);
    else solve_arm(inverse, held_at(at.s), target, solutions);
    double least = -1;
    for (int k = 0; k < solutions.count; ++k) {
      std::array<double, max_joints> q = solutions.solution[static_cast<std::size_t>(k)].q;
      double off = 0;
      for (std::size_t i = 0; i < n; ++i) {
        if (inverse.model.step[i].kind == JointKind::revolute)
          q[i] += 2 * std::numbers::pi * std::nearbyint((ahead[i] - q[i]) / (2 * std::numbers::pi));
        off = std::max(off, std::fabs(q[i] - ahead[i]));
      }
      if (least < 0 || off < least) least = off, at.q = q;
    }
    return least;
  }

  bool within_range(const State& at) {
    const PastLimit past = farthest_past_limit(inverse.model, at.q.data());
    if (past.joint < 0) return true;
    const auto joint = static_cast<std::size_t>(past.joint);
    if (past.by <= on_the_limit * 0.5 * (inverse.model.upper[joint] - inverse.model.lower[joint])) return true;
    return fail(PathTrouble::joint_range, at.s, past.joint, past.by);
  }

  bool advance_to(double s, State& at, int depth = 0) {
    State next;
    next.s = s;
    const double off = nearest(at, next);
    double change = 0;
    for (std::size_t i = 0; i < n; ++i) change = std::max(change, std::fabs(next.q[i] - at.q[i]));
    if (off >= 0 && off <= 0.2 * change + 1e-6 && change < 0.5) {
      if (!set_rates(next) || !within_range(next)) return false;
      // Past a singular posture the branch beyond it may well be the nearest: it is none that the posture can come to.
      if (next.mirrored == at.mirrored) {
        at = next;
        return true;
      }
    }
    if (depth == 14) return fail(off < 0 ? PathTrouble::out_of_reach : PathTrouble::branch_lost, s, -1, at.condition);
    if (advance_to(0.5 * (at.s + s), at, depth + 1) && advance_to(s, at, depth + 1)) return true;
    // An arm is singular at the end of its reach: what ends there is that.
    if (off < 0 && stop.trouble == PathTrouble::singular) stop.trouble = PathTrouble::out_of_reach;
    return false;
  }
};

void append(const State& at, std::size_t n, PathRows& out) {
  const auto count = static_cast<std::ptrdiff_t>(n);
  out.q.insert(out.q.end(), at.q.begin(), at.q.begin() + count);
  out.first.insert(out.first.end(), at.first.begin(), at.first.begin() + count);
  out.second.insert(out.second.end(), at.second.begin(), at.second.begin() + count);
}

}  // namespace

PathStop follow(const ArmInverse& inverse, const Followed& path, std::span<const double> start, std::span<const double> s, PathRows& out) {
  Follower follower{inverse, path, {}, inverse.model.joint_count, {}, {}, {}};
  std::copy(start.begin(), start.end(), follower.from.q.begin());
  follower.fixed = inverse.redundant.empty() ? inverse.usual : follower.held_at(0);
  State at = follower.from;
  if (!follower.set_rates(at)) return follower.stop;
  for (const double to : s) {
    if (to > at.s && !follower.advance_to(to, at)) return follower.stop;
    append(at, follower.n, out);
  }
  return {};
}

}  // namespace armwright
