#include <algorithm>
#include <array>
#include <cmath>

#include "armwright/motion/chain_motion.hpp"
#include "armwright/motion/profile_jerk.hpp"
#include "armwright/motion/tool_rates.hpp"
#include "armwright/motion/profile_trapezoid.hpp"

namespace armwright {

namespace {

constexpr int rows_of_all_phases = 96;
constexpr double unseen_jerk = 0.03;  // share of a jerk limit that is kept back where a way bends: differences show means only

// The greatest rates along the parameter that the straight parts of the limits allow; what the bends of the path take is seen to after.
struct Rates {
  double speed = unlimited, acceleration = unlimited, jerk = unlimited;
  NamedLimit of_speed, of_acceleration, of_jerk;
};

void take(double value, MotionLimit limit, std::int32_t axis, double& least, NamedLimit& name) {
  if (value < least) least = value, name = {limit, axis, 1};
}

Rates rates_of(const Model& model, const PathLimits& limits, const PathRows& path, const CycleSpec& cycle) {
  Rates r;
  const std::size_t n = limits.joint_count;
  for (std::size_t row = 0; row < limits.rows; ++row) {
    const double share = cycle.moves[static_cast<std::size_t>(path.move[row])].speed_share;
    for (std::size_t i = 0; i < n; ++i) {
      const double rate = std::fabs(limits.first[row * n + i]);
      if (rate == 0) continue;
      const auto axis = static_cast<std::int32_t>(i);
      take(limits.acceleration[row * n + i] / rate, MotionLimit::joint_acceleration, axis, r.acceleration, r.of_acceleration);
      take(share * share * share * model.jerk[i] / rate, MotionLimit::joint_jerk, axis, r.jerk, r.of_jerk);
    }
    if (!limits.tool.empty()) {
      const PathLimits::ToolRow& t = limits.tool[row];
      const double way = std::sqrt(t.way2), turn = std::sqrt(t.turn2);
      if (way > 0) take(t.limits.acceleration / way, MotionLimit::tool_acceleration, -1, r.acceleration, r.of_acceleration);
      if (turn > 0) take(t.limits.turn_acceleration / turn, MotionLimit::tool_turn_acceleration, -1, r.acceleration, r.of_acceleration);
    }
    const double jerk = cycle.moves[static_cast<std::size_t>(path.move[row])].tool.jerk;
    if (std::isfinite(jerk)) {
      std::array<Pose, max_joints> frames;
      joint_frames(model, path.q.data() + row * n, frames.data());
      const double way = norm(tool_rates(model, frames.data(), path.first.data() + row * n, path.second.data() + row * n).linear);
      if (way > 0) take(jerk / way, MotionLimit::tool_jerk, -1, r.jerk, r.of_jerk);
    }
    take(std::sqrt(limits.greatest[row]), limits.greatest_by[row].limit, limits.greatest_by[row].axis, r.speed, r.of_speed);
  }
  return r;
}

// Times of rows: both ends of every phase; between them evenly, and, where the way is not straight in joint space, at its grid.
void lay_times(const Profile& profile, const ChainPath& chain, ChainMotion& out, std::vector<Side>& sides) {
  std::array<double, 8> phases;
  const std::size_t count = phase_times(profile, phases.data());
  const double close = 1e-6 * profile.duration();
  const int each = rows_of_all_phases / static_cast<int>(std::max<std::size_t>(count, 2) - 1);
  std::vector<double> grid;
  if (chain.legs.size() > 1 || chain.legs[0].leg.by_tool)
    for (const double s : chain.rows.s) grid.push_back(time_at(profile, s));
  for (std::size_t k = 0; k + 1 < count; ++k) {
    std::vector<double> inner;
    for (int i = 1; i < each; ++i) inner.push_back(phases[k] + (phases[k + 1] - phases[k]) * i / each);
    for (const double time : grid)
      if (time > phases[k] + close && time < phases[k + 1] - close) inner.push_back(time);
    std::sort(inner.begin(), inner.end());
    const auto add = [&](double time, Side side) { out.time.push_back(time), sides.push_back(side); };
    add(phases[k], Side::after);
    for (const double time : inner)
      if (time > out.time.back() + close) add(time, Side::after);
    add(phases[k + 1], Side::before);
  }
}

// How much slower the motion has to be for what the bends of the path add: 1 if not at all.
double slowing(const Model& model, const PathLimits& limits, const CycleSpec& cycle, bool jerk_limited, const ChainMotion& motion, NamedLimit& why) {
  double k = 1;
  const std::size_t n = limits.joint_count;
  const auto take_use = [&](double use, double power, MotionLimit limit, std::int32_t axis) {
    if (use > 1 + 1e-12 && std::pow(use, power) > k) k = std::pow(use, power), why = {limit, axis, 1};
  };
  for (std::size_t row = 0; row < limits.rows; ++row) {
    const double x = motion.x[row], u = motion.u[row];
    take_use(std::sqrt(x / limits.greatest[row]), 1, limits.greatest_by[row].limit, limits.greatest_by[row].axis);
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t at = row * n + i;
      const double a = limits.first[at] * u + limits.second[at] * x;
      take_use(std::fabs(a) / limits.acceleration[at], 0.5, MotionLimit::joint_acceleration, static_cast<std::int32_t>(i));
      if (!jerk_limited || row == 0 || !(motion.time[row] > motion.time[row - 1])) continue;
      const double before = limits.first[at - n] * motion.u[row - 1] + limits.second[at - n] * motion.x[row - 1];
      const double share = cycle.moves[static_cast<std::size_t>(motion.path.move[row])].speed_share, most = share * share * share * model.jerk[i];
      // Over a straight line in joint space this is exact; a rounding there must not slow.
      const bool bends = limits.second[at] != 0 || limits.second[at - n] != 0;
      const double jerk = (bends ? 1 + unseen_jerk : 1) * std::fabs(a - before) / (motion.time[row] - motion.time[row - 1]);
      if (jerk > most * (1 + 1e-6)) take_use(jerk / most, 1.0 / 3, MotionLimit::joint_jerk, static_cast<std::int32_t>(i));
    }
    if (limits.tool.empty()) continue;
    const PathLimits::ToolRow& t = limits.tool[row];
    const auto size = [&](double ww, double wb, double bb) { return std::sqrt(std::max(0.0, ww * u * u + 2 * wb * u * x + bb * x * x)); };
    take_use(size(t.way2, t.way_bend, t.bend2) / t.limits.acceleration, 0.5, MotionLimit::tool_acceleration, -1);
    take_use(size(t.turn2, t.turn_bend, t.turn_bend2) / t.limits.turn_acceleration, 0.5, MotionLimit::tool_turn_acceleration, -1);
  }
  return k;
}

// The same for the tool's jerk, from differences between rows as the joints' is: on a way that bends it is more than that along it.
double slowing_of_tool_jerk(const Model& model, const CycleSpec& cycle, const ChainMotion& motion, double k, NamedLimit& why) {
  std::array<Pose, max_joints> frames;
  Vec3 before{0, 0, 0};
  for (std::size_t row = 0; row < motion.time.size(); ++row) {
    const std::size_t at = row * model.joint_count;
    joint_frames(model, motion.path.q.data() + at, frames.data());
    const ToolRates r = tool_rates(model, frames.data(), motion.path.first.data() + at, motion.path.second.data() + at);
    const Vec3 acceleration = motion.u[row] * r.linear + motion.x[row] * r.linear_next;
    const double most = cycle.moves[static_cast<std::size_t>(motion.path.move[row])].tool.jerk;
    if (row > 0 && motion.time[row] > motion.time[row - 1]) {
      const double jerk = norm(acceleration - before) / (motion.time[row] - motion.time[row - 1]);
      if (jerk > most * (1 + 1e-6) && std::cbrt(jerk / most) > k) k = std::cbrt(jerk / most), why = {MotionLimit::tool_jerk, -1, 1};
    }
    before = acceleration;
  }
  return k;
}

bool limits_tool_jerk(const CycleSpec& cycle, const PathRows& path) {
  return std::any_of(path.move.begin(), path.move.end(),
                     [&](std::int32_t move) { return std::isfinite(cycle.moves[static_cast<std::size_t>(move)].tool.jerk); });
}

NamedLimit deciding(const ProfileState& state, bool jerk_limited, const Rates& rates) {
  if (jerk_limited && state.jerk != 0) return rates.of_jerk;
  return state.acceleration != 0 ? rates.of_acceleration : rates.of_speed;
}

}  // namespace

double profile_slowing(const Model& model, const CycleSpec& cycle, bool jerk_limited, const ChainMotion& motion, NamedLimit& why) {
  const double k = slowing(model, path_limits(model, motion.path, cycle), cycle, jerk_limited, motion, why);
  return jerk_limited && limits_tool_jerk(cycle, motion.path) ? slowing_of_tool_jerk(model, cycle, motion, k, why) : k;
}

PlanRefusal profiled_motion(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, bool jerk_limited,
                            ChainMotion& out) {
  const PathLimits coarse = path_limits(model, chain.rows, cycle);
  const Rates rates = rates_of(model, coarse, chain.rows, cycle);
  if (!std::isfinite(rates.acceleration) && !(jerk_limited && std::isfinite(rates.jerk)))
    return at_row(PlanProblem::no_limit, chain.rows, 0, {MotionLimit::joint_acceleration, -1, 0});
  if (jerk_limited && !std::isfinite(rates.jerk)) return at_row(PlanProblem::no_limit, chain.rows, 0, {MotionLimit::joint_jerk, -1, 0});
  const double distance = chain.rows.s.back();
  const Profile profile = jerk_limited ? double_s(distance, rates.speed, rates.acceleration, rates.jerk) : trapezoid(distance, rates.speed, rates.acceleration);
  out = {};
  std::vector<Side> sides;
  lay_times(profile, chain, out, sides);
  std::vector<double> s;
  for (std::size_t row = 0; row < out.time.size(); ++row) {
    const ProfileState state = state_at(profile, out.time[row], sides[row]);
    s.push_back(std::clamp(state.position, 0.0, distance));
    out.x.push_back(state.speed * state.speed);
    out.u.push_back(state.acceleration);
    out.limit.push_back(deciding(state, jerk_limited, rates));
  }
  if (const PathStop stop = sample_chain(model, inverse, chain, s, out.path); !stop.good()) return from_path(stop);
  out.duration = profile.duration();
  NamedLimit why;
  const double k = profile_slowing(model, cycle, jerk_limited, out, why);
  slow_down(k, why, out);
  const PathLimits limits = path_limits(model, out.path, cycle);
  for (std::size_t row = 0; row < out.time.size(); ++row) {
    if (const NamedLimit held = standing(limits, row); held.use > 1) return at_row(PlanProblem::cannot_stand, out.path, row, held);
    const NamedLimit use = most_used(limits, row, out.x[row], out.u[row]);
    if (use.use > 1 + 1e-9) return at_row(PlanProblem::too_much, out.path, row, use);
  }
  return {};
}

}  // namespace armwright
