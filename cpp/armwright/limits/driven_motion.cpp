#include "armwright/limits/driven_motion.hpp"

#include "armwright/dynamics/inverse_dynamics.hpp"

namespace armwright {

std::vector<double> joint_torques(const Model& model, std::span<const Inertia> loads, const RefinedMotion& motion, bool at_rest) {
  const std::size_t n = motion.joint_count;
  std::vector<double> out(motion.q.size()), still;
  if (at_rest) still.resize(motion.q.size());
  const std::vector<double>&speed = at_rest ? still : motion.speed, &acceleration = at_rest ? still : motion.acceleration;
  for (std::size_t from = 0, to = 0; from < motion.rows(); from = to) {
    for (to = from; to < motion.rows() && motion.load[to] == motion.load[from]; ++to) {}
    const std::size_t at = from * n, count = (to - from) * n;
    const Inertia load = motion.load[from] < 0 ? Inertia{} : loads[static_cast<std::size_t>(motion.load[from])];
    inverse_dynamics(model, load, {&motion.q[at], count}, {&speed[at], count}, {&acceleration[at], count}, {&out[at], count});
  }
  return out;
}

DrivenMotion driven_motion(const Model& model, std::span<const Inertia> loads, const TimedMotion& motion, double step) {
  return driven_rows(model, loads, refined_motion(model, motion, step));
}

DrivenMotion driven_rows(const Model& model, std::span<const Inertia> loads, RefinedMotion motion) {
  DrivenMotion out;
  out.motion = std::move(motion);
  out.drives = axis_drives(model);
  out.joint_torque = joint_torques(model, loads, out.motion, false);
  const std::size_t n = model.joint_count, count = out.motion.q.size();
  out.axis_torque.resize(count);
  out.motor_torque.resize(count);
  out.motor_speed.resize(count);
  out.stage_torque.resize(count * max_stages);
  out.stage_speed.resize(count * max_stages);
  for (std::size_t row = 0; row < out.motion.rows(); ++row) {
    axis_torques(model, &out.joint_torque[row * n], &out.axis_torque[row * n]);
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t at = row * n + k;
      const DriveState<double> state = drive_state(out.drives[k], out.axis_torque[at], out.motion.axis_speed[at], out.motion.axis_acceleration[at], out.motion.direction[at]);
      out.motor_torque[at] = state.motor_torque;
      out.motor_speed[at] = state.motor_speed;
      for (std::size_t s = 0; s < out.drives[k].stage_count; ++s) {
        out.stage_torque[at * max_stages + s] = state.stage_torque[s];
        out.stage_speed[at * max_stages + s] = state.stage_speed[s];
      }
    }
  }
  return out;
}

}  // namespace armwright
