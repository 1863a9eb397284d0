#include <algorithm>
#include <cmath>

#include "armwright/motion/stop_plant.hpp"
#include "armwright/motion/stop_run.hpp"

namespace armwright {

namespace {

constexpr int parts = 4;  // of a step, for way and speed of the tool

void add_row(StopRun& run, double at, const AxisNumbers& q, const AxisNumbers& v) {
  StopRows& rows = run.answer.rows;
  const auto n = static_cast<std::ptrdiff_t>(run.n);
  rows.time.push_back(at);
  rows.q.insert(rows.q.end(), q.begin(), q.begin() + n);
  rows.speed.insert(rows.speed.end(), v.begin(), v.begin() + n);
  const Vec3 tool = tool_motion(run.model, q.data(), v.data()).position;
  rows.tool.insert(rows.tool.end(), {tool.x, tool.y, tool.z});
}

ToolMotion look(StopRun& run, const AxisNumbers& q, const AxisNumbers& v) {
  const ToolMotion tool = tool_motion(run.model, q.data(), v.data());
  run.answer.tool_drop = std::fmax(run.answer.tool_drop, run.tool_start.z - tool.position.z);
  run.answer.tool_top_speed = std::fmax(run.answer.tool_top_speed, norm(tool.velocity));
  for (std::size_t i = 0; i < run.n; ++i) run.answer.top_speed[i] = std::fmax(run.answer.top_speed[i], std::fabs(v[i]));
  return tool;
}

}  // namespace

void StopRun::begin_record() {
  answer.impact_time.fill(std::numeric_limits<double>::quiet_NaN());
  for (auto& of_stages : answer.stage_torque_time) of_stages.fill(std::numeric_limits<double>::quiet_NaN());
  const AxisNumbers q = joints_from(*this, position()), v = joints_from(*this, speed());
  tool_start = tool_motion(model, q.data(), v.data()).position;  // before look(), which measures from it
  look(*this, q, v);
  if (options.row_step > 0) add_row(*this, 0, q, v), next_row = 1;
}

void StopRun::record(double share) {
  AxisNumbers before = joints_from(*this, position());
  // The speed anew: an axis that halts or meets an end has changed it since the step before.
  ToolMotion tool = look(*this, before, joints_from(*this, speed()));
  double at[parts + 1] = {norm(tool.velocity)}, straight = 0;
  for (int i = 1; i <= parts; ++i) {
    const auto state = ode.at(share * i / parts);
    const AxisNumbers q = joints_from(*this, state.data()), v = joints_from(*this, state.data() + n);
    const Vec3 here = tool.position;
    tool = look(*this, q, v);
    at[i] = norm(tool.velocity), straight += norm(tool.position - here);
    for (std::size_t j = 0; j < n; ++j) answer.travel[j] += std::fabs(q[j] - before[j]);
    before = q;
  }
  // Boole's rule for the way of the tool point, which is no shorter than straight on.
  answer.tool_path += std::fmax(share * ode.step / 90 * (7 * at[0] + 32 * at[1] + 12 * at[2] + 32 * at[3] + 7 * at[4]), straight);
  for (std::size_t k = 0; k < n; ++k) {
    if (sense[k] == 0 || !braked[k]) continue;
    const double resisting = axes[k].motor_brake * std::fabs(axes[k].ratio) + axes[k].joint_brake;
    answer.brake_energy[k] += resisting * std::fabs(ode.at(share, k) - position()[k]);
  }
  for (; options.row_step > 0 && static_cast<double>(next_row) * options.row_step <= time + share * ode.step; ++next_row) {
    const double when = static_cast<double>(next_row) * options.row_step;
    const auto state = ode.at(std::clamp((when - time) / ode.step, 0.0, 1.0));
    add_row(*this, when, joints_from(*this, state.data()), joints_from(*this, state.data() + n));
  }
}

void StopRun::see(double at, const double* state) {
  see_stages(at, state + n);
  if (!options.every_step) return;
  AxisNumbers moving{}, change{};
  for (std::size_t k = 0; k < n; ++k)
    if (sense[k] != 0) moving[k] = state[n + k], change[k] = acceleration[k];
  StopSteps& every = answer.every;
  every.time.push_back(at);
  const auto count = static_cast<std::ptrdiff_t>(n);
  const auto keep = [&](std::vector<double>& to, const AxisNumbers& row) { to.insert(to.end(), row.begin(), row.begin() + count); };
  keep(every.q, joints_from(*this, state));
  keep(every.speed, joints_from(*this, moving.data()));
  keep(every.acceleration, joints_from(*this, change.data()));
}

void StopRun::end_record() {
  answer.q = joints_from(*this, position());
  const AxisNumbers v = joints_from(*this, speed());
  const Vec3 tool = tool_motion(model, answer.q.data(), v.data()).position;
  answer.tool_travel = norm(tool - tool_start);
  if (options.row_step > 0 && (answer.rows.time.empty() || answer.rows.time.back() < time)) add_row(*this, time, answer.q, v);
}

}  // namespace armwright
