#include <cmath>

#include "armwright/dynamics/factor.hpp"
#include "armwright/motion/stop_plant.hpp"
#include "armwright/motion/stop_run.hpp"

namespace armwright {

namespace {

constexpr int parts = 4;  // of a step, looked at for a change of sign

// Where a function that ought to stay above 0 passes below first, as a share of the step up to `most`; more than 1 if it
// does not. Told on the far side of the passage.
template <class Function>
double first_passage(Function value, double most) {
  double before = 0;
  for (int i = 1; i <= parts; ++i) {
    double after = most * i / parts;
    if (!(value(after) < 0)) {
      before = after;
      continue;
    }
    for (int halving = 0; halving < 50 && after - before > 1e-12; ++halving) {
      const double middle = 0.5 * (before + after);
      (value(middle) < 0 ? after : before) = middle;
    }
    return after;
  }
  return 2;
}

// How far inside what it holds the worst of the standing axes is, N m; negative: it breaks loose.
double least_margin(const StopRun& run, std::size_t& which) {
  double worst = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < run.n; ++k) {
    if (run.sense[k] != 0) continue;
    const double margin = std::fmin(run.held[k] - run.least[k], run.greatest[k] - run.held[k]) + run.torque_slack;
    if (margin < worst) worst = margin, which = k;
  }
  return worst;
}

void look_for_halts(StopRun& run, StopEvent& first) {
  for (std::size_t k = 0; k < run.n; ++k) {
    if (run.sense[k] == 0) continue;
    const double at = first_passage([&](double share) { return run.sense[k] * run.ode.at(share, run.n + k); }, first.share);
    if (at <= first.share) first = {StopEvent::Kind::halt, at, k, 0};
  }
}

double joint_at(const StopRun& run, std::size_t i, double share) {
  if (run.model.coupling.none()) return run.ode.at(share, i);
  double sum = 0;
  for (std::size_t k = 0; k < run.n; ++k)
    if (const double c = run.model.coupling.matrix[i * run.n + k]; c != 0) sum += c * run.ode.at(share, k);
  return sum;
}

void look_for_ends(StopRun& run, StopEvent& first) {
  for (std::size_t i = 0; i < run.n; ++i) {
    // Up to the first halt only: beyond it the step turns back, which nothing does in truth.
    const double before = joint_at(run, i, 0), after = joint_at(run, i, std::fmin(first.share, 1.0));
    for (const int side : {1, -1}) {
      const double end = side > 0 ? run.model.upper[i] : run.model.lower[i];
      if (run.at_end[i] * own_share(run.model, i) * side > 0 || std::isinf(end) || (side * (after - end) <= 0 && run.model.coupling.none())) continue;
      if (side * (before - end) > 0 && side * (after - before) <= 0) continue;  // on its way back in
      const double at = first_passage([&](double share) { return side * (end - joint_at(run, i, share)); }, first.share);
      if (at <= first.share) first = {StopEvent::Kind::joint_end, at, i, side};
    }
  }
}

void look_for_breaks(StopRun& run, StopEvent& first) {
  std::size_t which = 0;
  std::array<double, 2 * max_joints> unused;
  const auto margin = [&](double share) {
    const auto state = run.ode.at(share);
    run.derivative(state.data(), unused.data());
    return least_margin(run, which);
  };
  // The last slope of the step was asked for last, so that `held` is that of its end.
  const double at_end = first.share < 1 ? margin(first.share) : least_margin(run, which);
  if (at_end >= 0) return;
  double before = 0, after = first.share;
  for (int i = 0; i < 40 && (after - before) * run.ode.step > 1e-12; ++i) {
    const double middle = 0.5 * (before + after);
    (margin(middle) < 0 ? after : before) = middle;
  }
  margin(after);
  first = {StopEvent::Kind::break_loose, after, which, 0};
}

}  // namespace

double own_share(const Model& model, std::size_t joint) {
  if (model.coupling.none()) return 1;
  const std::size_t n = model.joint_count;
  for (std::size_t k = 0; k < n; ++k)
    if (k != joint && model.coupling.matrix[joint * n + k] != 0) return 0;
  return model.coupling.matrix[joint * n + joint];
}

StopEvent StopRun::first_event() {
  StopEvent first;
  look_for_halts(*this, first);
  look_for_ends(*this, first);
  look_for_breaks(*this, first);
  return first;
}

void StopRun::take_impact(const StopEvent& event) {
  const std::size_t i = event.which;
  const double struck = std::fabs(joints_from(*this, speed())[i]);
  if (answer.impact_speed[i] == 0) answer.impact_speed[i] = struck, answer.impact_time[i] = time;
  std::array<double, max_joints * max_joints> M{}, A{};
  AxisNumbers bias, change{};
  plant_terms(model, last, position(), speed(), M.data(), bias.data());
  // Only what moves yields; rotors and stages move along. The end pushes as hard as it takes to bring its axis to 0.
  std::array<std::size_t, max_joints> moving;
  std::size_t count = 0, own = 0;
  for (std::size_t k = 0; k < n; ++k) {
    if (sense[k] == 0) continue;
    if (k == i) own = count;
    moving[count++] = k;
  }
  for (std::size_t a = 0; a < count; ++a) {
    for (std::size_t b = 0; b < count; ++b) A[a * count + b] = M[moving[a] * n + moving[b]];
    const StopAxis& axis = axes[moving[a]];
    double turns = axis.ratio, inertia = axis.rotor_inertia * turns * turns;
    for (std::size_t s = 0; s < axis.stage_count; ++s) {
      inertia += axis.stage[s].inertia * turns * turns;
      turns /= axis.stage[s].ratio;
    }
    A[a * count + a] += inertia;
  }
  change[own] = 1;
  solve_symmetric(count, A.data(), change.data(), [](std::size_t, double pivot) { return !(pivot > 0); });
  const double impulse = speed()[i] / change[own];
  for (std::size_t a = 0; a < count; ++a) speed()[moving[a]] -= impulse * change[a];
  speed()[i] = 0;
  const double share = own_share(model, i);
  position()[i] = (event.side > 0 ? model.upper[i] : model.lower[i]) / share;
  at_end[i] = static_cast<std::int8_t>(share > 0 ? event.side : -event.side);
}

}  // namespace armwright
