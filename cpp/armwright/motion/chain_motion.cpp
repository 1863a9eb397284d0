#include "armwright/motion/chain_motion.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/motion/drive_torques.hpp"

namespace armwright {

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
  double time = 0;
  for (std::size_t row = 0; row + 1 < path.rows(); ++row) {
    const double u = timing.u[row];
    NamedLimit worst = most_used(limits, row, timing.x[row], u);
    if (const NamedLimit after = most_used(limits, row + 1, timing.x[row + 1], u); after.use > worst.use) worst = after;
    for (std::size_t end = row; end <= row + 1; ++end) {
      append_row(path, end, out.path);
      out.time.push_back(time);
      out.x.push_back(timing.x[end]);
      out.u.push_back(u);
      out.limit.push_back(worst);
      if (end == row) time += interval_time(path.s[row + 1] - path.s[row], timing.x[row], timing.x[row + 1]);
    }
  }
  out.duration = time;
  return {};
}

void slow_down(double k, const NamedLimit& why, ChainMotion& motion) {
  if (!(k > 1)) return;
  for (std::size_t row = 0; row < motion.time.size(); ++row) {
    motion.time[row] *= k, motion.x[row] /= k * k, motion.u[row] /= k * k;
    if (why.limit != MotionLimit::none) motion.limit[row] = why;
  }
  motion.duration *= k;
}

}  // namespace armwright
