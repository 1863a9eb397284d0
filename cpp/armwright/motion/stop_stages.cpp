#include <cmath>

#include "armwright/motion/drive_torques.hpp"
#include "armwright/motion/stop_run.hpp"

namespace armwright {

namespace {

// What axis k asks of its last stage besides friction, N m: what its links need, and what a brake at the joint takes off.
double asked_of_stages(const StopRun& run, std::size_t k) {
  const double needed = run.held[k], brake = run.braked[k] ? run.axes[k].joint_brake : 0;
  if (run.sense[k] != 0) return needed + brake * run.sense[k];
  if (needed * run.at_end[k] < 0) return 0;  // pressed against the end of its range, which bears it
  if (run.phase == StopPhase::off) return std::copysign(std::fmax(std::fabs(needed) - brake, 0.0), needed);
  return needed;  // the motor holds it, as far as anyone can tell
}

}  // namespace

void StopRun::see_stages(double at, const double* axis_speed) {
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t count = axes[k].stage_count;
    if (count == 0) continue;
    const double direction = sense[k], speed = sense[k] == 0 ? 0 : axis_speed[k], change = sense[k] == 0 ? 0 : acceleration[k];
    const DriveState<double> state = drive_state(drives[k], asked_of_stages(*this, k), speed, change, direction);
    for (std::size_t s = 0; s < count; ++s) {
      const double torque = std::fabs(state.stage_torque[s]);
      if (torque > answer.stage_torque[k][s]) answer.stage_torque[k][s] = torque, answer.stage_torque_time[k][s] = at;
    }
  }
}

}  // namespace armwright
