#include "armwright/motion/stop.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/motion/drive_torques.hpp"
#include "armwright/motion/stop_run.hpp"

namespace armwright {

namespace {

constexpr double endless = std::numeric_limits<double>::infinity();
constexpr double bent = 1e4;  // error over what is tolerated, across a bend of what acts, that a very short step may have
constexpr double least_step = 1e-18;  // s; what needs shorter ones is beyond all bounds
constexpr double creeping = 1e-6;  // rad/s and rad/s²: what is slower and left alone stands

void plan_control(StopRun& run) {
  double together = 0;
  bool all_planned = true;
  for (std::size_t k = 0; k < run.n; ++k) {
    const double greatest = run.options.deceleration[k];
    if (std::isinf(greatest)) all_planned = all_planned && run.speed()[k] == 0;
    else together = std::fmax(together, std::fabs(run.speed()[k]) / greatest);
  }
  for (std::size_t k = 0; k < run.n; ++k)
    run.planned[k] = std::isinf(run.options.deceleration[k]) ? endless : together > 0 ? std::fabs(run.speed()[k]) / together : 0;
  const double longest = std::isnan(run.options.longest_control) ? (all_planned ? together + 1 : 5) : run.options.longest_control;
  run.control_ends = run.time + longest;
}

void enter(StopRun& run, StopPhase phase) {
  run.phase = phase;
  if (phase == StopPhase::control) plan_control(run);
  if (phase == StopPhase::hold) run.hold_ends = run.time + run.options.hold;
  if (phase == StopPhase::off) run.answer.power_off = run.time;
  if (phase == StopPhase::hold || phase == StopPhase::off) run.brakes_told = std::fmin(run.brakes_told, run.time);
}

// When something is due: the next of power off, a brake biting, the time limit; what the motors hold is waited for beyond it.
double next_due(const StopRun& run) {
  double due = run.phase == StopPhase::hold && run.all_stand() ? run.hold_ends : run.options.time_limit;
  if (run.phase == StopPhase::reaction) due = std::fmin(due, run.options.reaction);
  if (run.phase == StopPhase::control) due = std::fmin(due, run.control_ends);
  if (run.phase == StopPhase::hold) due = std::fmin(due, run.hold_ends);
  for (std::size_t k = 0; k < run.n; ++k) {
    const bool has_brake = run.axes[k].motor_brake > 0 || run.axes[k].joint_brake > 0;
    if (has_brake && !run.braked[k]) due = std::fmin(due, run.brakes_told + run.axes[k].delay);
  }
  return due;
}

void take_due(StopRun& run) {
  if (run.phase == StopPhase::reaction && run.time >= run.options.reaction)
    enter(run, run.options.category == StopCategory::controlled ? StopPhase::control : StopPhase::off);
  if (run.phase == StopPhase::control && run.time >= run.control_ends) enter(run, StopPhase::off);
  if (run.phase == StopPhase::hold && run.time >= run.hold_ends) enter(run, StopPhase::off);
  for (std::size_t k = 0; k < run.n; ++k)
    if (run.axes[k].motor_brake > 0 || run.axes[k].joint_brake > 0) run.braked[k] = run.braked[k] || run.time >= run.brakes_told + run.axes[k].delay;
}

// Moves on to a share of the step just made, and what happens there.
bool take_event(StopRun& run, const StopEvent& event) {
  using Kind = StopEvent::Kind;
  run.record(event.share);
  run.time += event.share * run.ode.step;
  run.last_moved = run.time;
  const bool progress = event.share * run.ode.step > 1e-11;
  run.no_progress = progress ? 0 : run.no_progress + 1;
  if (progress) run.held_still.fill(false);
  run.ode.start = event.kind == Kind::none ? run.ode.end : run.ode.at(event.share);
  for (std::size_t k = 0; k < run.n; ++k)
    if (run.sense[k] == 0) run.speed()[k] = 0;
  if (event.kind == Kind::halt) {
    run.speed()[event.which] = 0;
    for (std::size_t k = 0; k < run.n; ++k)
      if (std::fabs(run.speed()[k]) < 1e-12) run.speed()[k] = 0;  // axes that halt together
    if (run.no_progress > 4) run.held_still[event.which] = true;  // trembling at rounding: held for a step
  }
  if (event.kind != Kind::joint_end) return true;
  if (own_share(run.model, event.which) == 0) {
    run.answer.end = StopEnd::joint_end;
    run.answer.joint = static_cast<std::int32_t>(event.which);
    run.answer.impact_speed[event.which] = std::fabs(joints_from(run, run.speed())[event.which]);
    run.answer.impact_time[event.which] = run.time;
    return false;
  }
  run.take_impact(event);
  return true;
}

// Whether it is not to be given up yet, nor cancelled.
bool goes_on(const StopRun& run) { return run.answer.steps <= most_stop_steps && !(run.sign && run.sign->raised()); }

// One accepted step of the integration, up to `due` at most. False: there is none, see StopRun::derivative.
bool make_step(StopRun& run, double due) {
  const auto slope_of = [&run](const auto& state, auto& slope) { return run.derivative(state.data(), slope.data()); };
  for (;;) {
    const double left = due - run.time, h = run.step < 0.9 * left ? run.step : left;
    ++run.answer.steps;
    // A step that goes too far may pass through nonsense on its way: shorter ones may not.
    const double error = run.ode.advance(h, slope_of) ? run.ode.error(run.options.tolerance) : endless;
    const bool finite = std::isfinite(error);
    const double factor = finite ? std::clamp(0.9 * std::pow(error + 1e-12, -0.2), 0.2, 5.0) : 0.1;
    if (error <= 1 || (error <= bent && h < 1e-10)) {
      if (h == run.step || factor < 1) run.step = h * factor;
      return true;
    }
    run.step = h * factor;
    if (run.step < least_step || !goes_on(run)) return false;
  }
}

// Whether all that still moves only creeps.
bool creeps(StopRun& run) {
  for (std::size_t k = 0; k < run.n; ++k)
    if (run.sense[k] != 0 && (std::fabs(run.speed()[k]) > creeping || std::fabs(run.acceleration[k]) > creeping)) return false;
  return true;
}

// Steps until something happens or is due. False: it is over.
bool run_on(StopRun& run) {
  if (!run.derivative(run.ode.start.data(), run.ode.slope[0].data())) return false;
  run.see(run.time, run.position());
  const double due = next_due(run);
  while (run.time < due && goes_on(run)) {
    if (!make_step(run, due)) return false;
    for (std::size_t k = 0; k < run.n; ++k)
      if (run.law[k].kink && run.sense[k] != 0 && run.mode[k] != AxisMode::pinned) run.answer.saturated = true;
    const StopEvent event = run.first_event();
    run.see(run.time + event.share * run.ode.step, run.ode.at(event.share).data());
    if (!take_event(run, event)) return false;
    if (event.kind != StopEvent::Kind::none) break;
    run.ode.slope[0] = run.ode.slope[6];
    if (due - run.time < 1e-13) run.time = due;
    if (run.phase == StopPhase::off && due >= run.options.time_limit && creeps(run)) break;
  }
  take_due(run);
  return run.time < run.options.time_limit && goes_on(run);
}

// From one event to the next. False: it is over.
bool follow(StopRun& run) {
  if (!run.settle_pattern()) return false;
  const bool stands = run.all_stand();
  if (stands) run.see(run.time, run.position());
  if (!stands && !creeps(run)) return run_on(run);
  if (run.phase == StopPhase::control) {
    enter(run, run.options.hold > 0 ? StopPhase::hold : StopPhase::off);
    take_due(run);
    return true;
  }
  const double due = next_due(run);
  if (due >= run.options.time_limit && run.phase != StopPhase::hold) {
    run.answer.end = StopEnd::rest;
    run.time = run.last_moved;
    return false;
  }
  if (!stands) return run_on(run);
  run.time = due;
  take_due(run);
  return true;
}

}  // namespace

StopRun::StopRun(const Model& model_in, const Inertia& load, std::span<const double> q, std::span<const double> speed_in, const StopOptions& options_in)
    : model(model_in), options(options_in), last(model_in.link[model_in.joint_count - 1] + load), n(model_in.joint_count), drives(axis_drives(model_in)), axes(stop_axes(model_in, drives)) {
  ode.size = 2 * n;
  axis_motion(model, q.data(), ode.start.data());
  axis_motion(model, speed_in.data(), ode.start.data() + n);
  answer.power_off = std::numeric_limits<double>::quiet_NaN();
}

StopAnswer stop(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed, const StopOptions& options,
                const StopSign* sign) {
  StopRun run(model, load, q, speed, options);
  run.sign = sign;
  run.begin_record();
  take_due(run);
  while (follow(run)) {
  }
  if (run.lost >= 0) run.answer.end = StopEnd::no_inertia, run.answer.joint = run.lost;
  else if (run.answer.end == StopEnd::still_moving && run.time < options.time_limit) run.answer.end = StopEnd::gave_up;
  run.answer.time = run.time;
  run.end_record();
  return run.answer;
}

bool stops(const Model& model, std::span<const Inertia> loads, std::span<const double> q, std::span<const double> speed,
           const StopOptions& options, unsigned threads, const Progress& progress, std::vector<StopAnswer>& out) {
  const std::size_t n = model.joint_count;
  out.resize(rows_of(model, q));
  return for_each_piece(out.size(), threads, progress, [&](std::size_t row, std::size_t, const StopSign& sign) {
    out[row] = stop(model, loads[row], q.subspan(row * n, n), speed.subspan(row * n, n), options, &sign);
  });
}

}  // namespace armwright
