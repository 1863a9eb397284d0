#include <algorithm>
#include <cmath>

#include "armwright/motion/stop_plant.hpp"
#include "armwright/motion/stop_run.hpp"

namespace armwright {

namespace {

constexpr double endless = std::numeric_limits<double>::infinity();

// Stays at an acceleration, whatever that takes.
AxisLaw pinned_at(double acceleration) { return {true, acceleration, -endless, endless, {}, {}}; }

AxisLaw law_while_moving(const StopRun& run, std::size_t k, double speed) {
  const StopAxis& axis = run.axes[k];
  const double sense = run.sense[k], towards = axis.ratio > 0 ? 1 : -1;
  if (run.phase == StopPhase::reaction) return pinned_at(0);
  if (run.phase == StopPhase::off) {
    const AxisPull pull = dragged(axis, 0, run.braked[k], speed, sense);
    return {false, 0, 0, 0, pull, pull};
  }
  const double reach = run.motor_reach(k, speed);
  if (std::isinf(run.planned[k])) {
    const AxisPull pull = dragged(axis, -sense * towards * reach, run.braked[k], speed, sense);
    return {false, 0, 0, 0, pull, pull};
  }
  return law_between(axis, dragged(axis, -towards * reach, run.braked[k], speed, sense),
                     dragged(axis, towards * reach, run.braked[k], speed, sense), -sense * run.planned[k]);
}

AxisLaw law_at_rest(const StopRun& run, std::size_t k) {
  const StopAxis& axis = run.axes[k];
  if (run.phase == StopPhase::reaction || run.held_still[k]) return pinned_at(0);
  const double towards = axis.ratio > 0 ? 1 : -1, reach = run.phase == StopPhase::off ? 0 : run.motor_reach(k, 0);
  AxisLaw law = law_between(axis, dragged(axis, -towards * reach, run.braked[k], 0, 1), dragged(axis, towards * reach, run.braked[k], 0, -1), 0);
  if (run.at_end[k] > 0) law.least = -endless;
  if (run.at_end[k] < 0) law.greatest = endless;
  return law;
}

struct Plant {
  std::array<double, max_joints * max_joints> M;
  AxisNumbers bias;
  bool finite;
};

Plant plant_at(StopRun& run, const double* state) {
  Plant plant;
  plant_terms(run.model, run.last, state, state + run.n, plant.M.data(), plant.bias.data());
  double size = 0, sum = 0;
  for (std::size_t k = 0; k < run.n; ++k) {
    const double own = std::fabs(plant.bias[k]) + plant.M[k * run.n + k];
    size = std::fmax(size, own), sum += own;
  }
  plant.finite = std::isfinite(sum);
  run.torque_slack = 1e-11 * size;
  return plant;
}

bool solved(StopRun& run, const Plant& plant, AxisMode* mode) {
  run.lost = -1;
  if (!plant.finite) return false;
  run.lost = accelerations(run.n, plant.M.data(), plant.bias.data(), run.axes.data(), run.law.data(), run.torque_slack, run.acceleration.data(), mode, run.held.data());
  return run.lost < 0;
}

}  // namespace

double StopRun::motor_reach(std::size_t k, double axis_speed) const {
  const StopAxis& axis = axes[k];
  if (!axis.present) return axis.stated_peak;
  // Dragged beyond the end of its curve a motor brakes as at the end.
  return curve_torque(axis.peak, std::fmin(std::fabs(axis_speed * axis.ratio), axis.peak.max_speed()));
}

bool StopRun::derivative(const double* state, double* slope) {
  const Plant plant = plant_at(*this, state);
  for (std::size_t k = 0; k < n; ++k) {
    law[k] = sense[k] == 0 ? pinned_at(0) : law_while_moving(*this, k, state[n + k]);
    if (sense[k] == 0) mode[k] = AxisMode::pinned;
  }
  if (!solved(*this, plant, mode.data())) return false;
  for (std::size_t k = 0; k < n; ++k) {
    slope[k] = sense[k] == 0 ? 0 : state[n + k];
    slope[n + k] = sense[k] == 0 ? 0 : acceleration[k];
  }
  return true;
}

bool StopRun::settle_pattern() {
  const Plant plant = plant_at(*this, ode.start.data());
  std::array<AxisMode, max_joints> found = mode;
  for (std::size_t k = 0; k < n; ++k) {
    const double v = speed()[k];
    sense[k] = static_cast<std::int8_t>(v > 0 ? 1 : v < 0 ? -1 : 0);
    law[k] = sense[k] == 0 ? law_at_rest(*this, k) : law_while_moving(*this, k, v);
    if (sense[k] == 0) least[k] = law[k].least, greatest[k] = law[k].greatest;
    found[k] = sense[k] == 0 || law[k].kink ? AxisMode::pinned : AxisMode::below;
  }
  if (!solved(*this, plant, found.data())) return false;
  for (std::size_t k = 0; k < n; ++k) {
    if (sense[k] == 0 && found[k] != AxisMode::pinned) sense[k] = found[k] == AxisMode::above ? 1 : -1;
    if (sense[k] * at_end[k] < 0) at_end[k] = 0;
    mode[k] = found[k];
  }
  return true;
}

bool StopRun::all_stand() const {
  return std::all_of(sense.begin(), sense.begin() + static_cast<std::ptrdiff_t>(n), [](std::int8_t s) { return s == 0; });
}

AxisNumbers joints_from(const StopRun& run, const double* axis) {
  AxisNumbers joint{};
  joints_of_axes(run.model, axis, joint.data());
  return joint;
}

}  // namespace armwright
