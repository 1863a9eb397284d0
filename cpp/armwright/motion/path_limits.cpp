#include "armwright/motion/path_limits.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "armwright/dynamics/gravity.hpp"
#include "armwright/dynamics/inverse_dynamics.hpp"
#include "armwright/motion/drive_torques.hpp"
#include "armwright/motion/tool_rates.hpp"

namespace armwright {

namespace {

bool limits_torque(const Model& model, const std::vector<AxisDrive>& drives) {
  for (std::size_t k = 0; k < model.joint_count; ++k)
    if (drives[k].present || std::isfinite(drives[k].stated_peak)) return true;
  return false;
}

bool has_limits(const ToolLimits& t) {
  return std::isfinite(t.speed) || std::isfinite(t.acceleration) || std::isfinite(t.turn_speed) || std::isfinite(t.turn_acceleration);
}

const MoveSpec& move_of(const CycleSpec& cycle, std::int32_t move) { return cycle.moves[static_cast<std::size_t>(move)]; }

Inertia load_of(const Model& model, const CycleSpec& cycle, std::int32_t move) {
  const std::int32_t load = move_of(cycle, move).load;
  return load < 0 ? Inertia{} : model.tool * cycle.loads[static_cast<std::size_t>(load)];
}

// a, b and g of all rows that carry the same load, by two batches of inverse dynamics and one of statics.
void rigid_body(const PathRows& path, std::size_t from, std::size_t to, const Inertia& load, PathLimits& out) {
  const Model& model = *out.model;
  const std::size_t n = out.joint_count, first = from * n, count = (to - from) * n;
  const auto part = [&](const std::vector<double>& v) { return std::span<const double>(v).subspan(first, count); };
  const std::vector<double> still(count, 0.0);
  std::vector<double> g(count), a(count), b(count);
  gravity_torques(model, load, part(path.q), g);
  inverse_dynamics(model, load, part(path.q), still, part(out.first), a);
  inverse_dynamics(model, load, part(path.q), part(out.first), part(out.second), b);
  for (std::size_t i = 0; i < count; ++i) a[i] -= g[i], b[i] -= g[i];
  for (std::size_t row = 0; row < to - from; ++row) {
    axis_torques(model, a.data() + row * n, out.inertia.data() + first + row * n);
    axis_torques(model, b.data() + row * n, out.coriolis.data() + first + row * n);
    axis_torques(model, g.data() + row * n, out.gravity.data() + first + row * n);
  }
}

void set_torques(const PathRows& path, const CycleSpec& cycle, PathLimits& out) {
  for (auto* values : {&out.inertia, &out.coriolis, &out.gravity}) values->resize(out.rows * out.joint_count);
  for (std::size_t from = 0; from < out.rows;) {
    std::size_t to = from + 1;
    while (to < out.rows && move_of(cycle, path.move[to]).load == move_of(cycle, path.move[from]).load) ++to;
    rigid_body(path, from, to, load_of(*out.model, cycle, path.move[from]), out);
    from = to;
  }
}

void set_tool(const PathRows& path, const CycleSpec& cycle, PathLimits& out) {
  bool any = false;
  for (const std::int32_t move : path.move) any = any || has_limits(move_of(cycle, move).tool);
  if (!any) return;
  std::array<Pose, max_joints> frames;
  for (std::size_t row = 0; row < out.rows; ++row) {
    joint_frames(*out.model, path.q.data() + row * out.joint_count, frames.data());
    const ToolRates r = tool_rates(*out.model, frames.data(), out.first.data() + row * out.joint_count, out.second.data() + row * out.joint_count);
    out.tool.push_back({dot(r.linear, r.linear), dot(r.linear, r.linear_next), dot(r.linear_next, r.linear_next), dot(r.angular, r.angular),
                        dot(r.angular, r.angular_next), dot(r.angular_next, r.angular_next), move_of(cycle, path.move[row]).tool});
  }
}

void set_greatest(PathLimits& out) {
  const std::size_t n = out.joint_count;
  std::array<SpeedLimit, max_joints> of_drive;
  for (std::size_t k = 0; k < n; ++k) of_drive[k] = greatest_axis_speed(out.drives[k]);
  out.greatest.resize(out.rows), out.greatest_by.resize(out.rows);
  const bool drives = std::any_of(of_drive.begin(), of_drive.begin() + static_cast<std::ptrdiff_t>(n), [](const SpeedLimit& of) { return of.speed < unlimited; });
  for (std::size_t row = 0; row < out.rows; ++row) {
    double least = unlimited;  // ṡ
    NamedLimit& by = out.greatest_by[row];
    const auto take = [&](double limit, double rate, MotionLimit name, std::int32_t of) {
      if (limit > rate * least * (1 + 1e-12)) return;  // spares most divisions
      if (rate > 0 && limit / rate < least) least = limit / rate, by = {name, of, 1};
    };
    const double* axis = out.axis_way(row);
    for (std::size_t i = 0; i < n; ++i) {
      take(out.speed[row * n + i], std::fabs(out.first[row * n + i]), MotionLimit::joint_speed, static_cast<std::int32_t>(i));
      if (drives) take(of_drive[i].speed, std::fabs(axis[i]), of_drive[i].part == part_motor ? MotionLimit::motor_speed : MotionLimit::stage_speed, static_cast<std::int32_t>(i));
    }
    if (!out.tool.empty()) {
      const PathLimits::ToolRow& t = out.tool[row];
      take(t.limits.speed, std::sqrt(t.way2), MotionLimit::tool_speed, -1);
      take(t.limits.turn_speed, std::sqrt(t.turn2), MotionLimit::tool_turn_speed, -1);
    }
    out.greatest[row] = least * least * (1 - 1e-13);
  }
}

// |w u + b x| <= most, from w·w, w·b and b·b.
void allow_vector(double ww, double wb, double bb, double x, double most, Allowed& u) {
  if (!std::isfinite(most)) return;
  const double half = wb * x, c = bb * x * x - most * most;
  if (ww <= 0) {
    if (c > 0) u.nothing();
    return;
  }
  const double root = half * half - ww * c;
  if (root < 0) return u.nothing();
  u.at_least((-half - std::sqrt(root)) / ww);
  u.at_most((-half + std::sqrt(root)) / ww);
}

AxisAlong axis_along(const PathLimits& limits, std::size_t row, std::size_t k, double x, double rate) {
  const std::size_t at = row * limits.joint_count + k;
  const double way = limits.axis_way(row)[k], bend = limits.axis_bend(row)[k];
  return {limits.coriolis[at] * x + limits.gravity[at], limits.inertia[at], bend * x, way, way * rate, way};
}

}  // namespace

PathLimits path_limits(const Model& model, const PathRows& path, const CycleSpec& cycle) {
  PathLimits out;
  out.model = &model;
  out.joint_count = model.joint_count;
  out.rows = path.rows();
  out.drives = axis_drives(model);
  out.first = path.first;
  out.second = path.second;
  const std::size_t n = out.joint_count, all = out.rows * n;
  out.speed.resize(all), out.acceleration.resize(all);
  for (std::size_t row = 0; row < out.rows; ++row) {
    const double share = move_of(cycle, path.move[row]).speed_share;
    for (std::size_t i = 0; i < n; ++i) out.speed[row * n + i] = share * model.speed[i], out.acceleration[row * n + i] = share * share * model.acceleration[i];
  }
  if (!model.coupling.none()) {
    out.axis_first.resize(all), out.axis_second.resize(all);
    for (std::size_t row = 0; row < out.rows; ++row) {
      axis_motion(model, out.first.data() + row * n, out.axis_first.data() + row * n);
      axis_motion(model, out.second.data() + row * n, out.axis_second.data() + row * n);
    }
  }
  if (limits_torque(model, out.drives)) set_torques(path, cycle, out);
  set_tool(path, cycle, out);
  set_greatest(out);
  return out;
}

Allowed allowed(const PathLimits& limits, std::size_t row, double x) {
  Allowed u;
  const std::size_t n = limits.joint_count;
  for (std::size_t i = row * n; i < (row + 1) * n; ++i) {
    const double most = limits.acceleration[i];
    if (most < unlimited) allow_between(limits.second[i] * x, limits.first[i], -most, most, u);
  }
  if (!limits.tool.empty()) {
    const PathLimits::ToolRow& t = limits.tool[row];
    allow_vector(t.way2, t.way_bend, t.bend2, x, t.limits.acceleration, u);
    allow_vector(t.turn2, t.turn_bend, t.turn_bend2, x, t.limits.turn_acceleration, u);
  }
  if (!limits.inertia.empty()) {
    const double rate = std::sqrt(x);
    for (std::size_t k = 0; k < n; ++k) {
      AxisAlong axis = axis_along(limits, row, k, x, rate);
      allow_torque(limits.drives[k], axis, u);
      if (x > 0 || axis.direction == 0) continue;
      axis.direction = 0;
      allow_torque(limits.drives[k], axis, u);
    }
  }
  return u;
}

}  // namespace armwright
