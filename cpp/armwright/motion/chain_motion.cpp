#include "armwright/motion/chain_motion.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/motion/drive_torques.hpp"

namespace armwright {

namespace {

void append_row(const PathRows& from, std::size_t row, PathRows& to) {
  const std::size_t n = from.joint_count;
  to.joint_count = n;
  to.s.push_back(from.s[row]);
  to.move.push_back(from.move[row]);
  const auto part = [&](const std::vector<double>& source, std::vector<double>& out) {
    out.insert(out.end(), source.begin() + static_cast<std::ptrdiff_t>(row * n), source.begin() + static_cast<std::ptrdiff_t>((row + 1) * n));
  };
  part(from.q, to.q), part(from.first, to.first), part(from.second, to.second);
}

}  // namespace

PlanRefusal at_row(PlanProblem problem, const PathRows& path, std::size_t row, const NamedLimit& limit) {
  std::size_t first = row, last = row;
  while (first > 0 && path.move[first - 1] == path.move[row]) --first;
  while (last + 1 < path.rows() && path.move[last + 1] == path.move[row]) ++last;
  PlanRefusal refusal;
  refusal.problem = problem;
  refusal.move = path.move[row];
  refusal.axis = limit.axis;
  refusal.limit = limit.limit;
  refusal.value = limit.use;
  refusal.allowed = 1;
  refusal.share = last > first ? (path.s[row] - path.s[first]) / (path.s[last] - path.s[first]) : 0;
  return refusal;
}

PlanRefusal from_path(const PathStop& stop) {
  PlanRefusal refusal;
  switch (stop.trouble) {
    case PathTrouble::none: break;
    case PathTrouble::out_of_reach: refusal.problem = PlanProblem::out_of_reach; break;
    case PathTrouble::joint_range: refusal.problem = PlanProblem::joint_range; break;
    case PathTrouble::singular: refusal.problem = PlanProblem::singular, refusal.allowed = least_inverse_condition; break;
    case PathTrouble::branch_lost: refusal.problem = PlanProblem::branch_lost; break;
    case PathTrouble::no_circle: refusal.problem = PlanProblem::no_circle; break;
  }
  refusal.move = stop.move, refusal.axis = stop.axis, refusal.value = stop.value, refusal.share = stop.share;
  return refusal;
}

PlanRefusal optimal_motion(const Model& model, const ChainPath& chain, const CycleSpec& cycle, ChainMotion& out) {
  const PathRows& path = chain.rows;
  const PathLimits limits = path_limits(model, path, cycle);
  PathTiming timing;
  const TimingStop stop = time_optimal(limits, path.s, timing);
  switch (stop.cause) {
    case TimingStop::Cause::none: break;
    case TimingStop::Cause::cannot_stand: return at_row(PlanProblem::cannot_stand, path, stop.row, stop.limit);
    case TimingStop::Cause::cannot_move: return at_row(PlanProblem::cannot_move, path, stop.row, stop.limit);
    case TimingStop::Cause::unbounded: return at_row(PlanProblem::no_limit, path, stop.row, {MotionLimit::joint_acceleration, -1, 0});
  }
  out = {};
  const bool bends = std::any_of(path.second.begin(), path.second.end(), [](double bend) { return bend != 0; });
  const double slower = bends ? 1 + kept_between_rows : 1, square = slower * slower;
  double time = 0;
  for (std::size_t row = 0; row + 1 < path.rows(); ++row) {
    const double u = timing.u[row];
    NamedLimit worst = most_used(limits, row, timing.x[row], u);
    if (const NamedLimit after = most_used(limits, row + 1, timing.x[row + 1], u); after.use > worst.use) worst = after;
    for (std::size_t end = row; end <= row + 1; ++end) {
      append_row(path, end, out.path);
      out.time.push_back(time);
      out.x.push_back(timing.x[end] / square);
      out.u.push_back(u / square);
      out.limit.push_back(worst);
      if (end == row) time += slower * interval_time(path.s[row + 1] - path.s[row], timing.x[row], timing.x[row + 1]);
    }
  }
  out.duration = time;
  return {};
}

double most_used_between(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, const ChainMotion& motion) {
  const std::size_t n = model.joint_count;
  std::vector<double> s, x, u, shares, from(n), to(n);
  for (std::size_t row = 0; row + 1 < motion.time.size(); row += 2) {  // both ends of an interval are rows
    shares.assign(1, 0.5);
    axis_motion(model, motion.path.first.data() + row * n, from.data());
    axis_motion(model, motion.path.first.data() + (row + 1) * n, to.data());
    for (std::size_t k = 0; k < n; ++k) {
      if (!(from[k] * to[k] < 0)) continue;  // where an axis turns back friction and power turn round: just before and after
      const double turn = from[k] / (from[k] - to[k]);
      shares.push_back(std::max(0.0, turn - 0.02)), shares.push_back(std::min(1.0, turn + 0.02));
    }
    std::sort(shares.begin(), shares.end());
    for (const double share : shares) {
      s.push_back(motion.path.s[row] + share * (motion.path.s[row + 1] - motion.path.s[row]));
      x.push_back(motion.x[row] + share * (motion.x[row + 1] - motion.x[row]));
      u.push_back(motion.u[row]);
    }
  }
  PathRows path;
  if (!sample_chain(model, inverse, chain, s, path).good()) return unlimited;
  const PathLimits limits = path_limits(model, path, cycle);
  double most = 0;
  for (std::size_t row = 0; row < path.rows(); ++row) most = std::max(most, most_used(limits, row, x[row], u[row]).use);
  return most;
}

}  // namespace armwright
