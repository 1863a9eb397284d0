#include "armwright/dynamics/base_wrench.hpp"

#include <algorithm>

#include "armwright/dynamics/newton_euler.hpp"

namespace armwright {

void base_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                   std::span<const double> acceleration, std::span<double> out) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q);
  const Inertia last = model.link[n - 1] + load;
  const Vec3 up = transpose_times(model.base.rotation, -model.gravity);
  for (std::size_t row = 0; row < rows; ++row) {
    const double *at = &q[row * n], *velocity = &speed[row * n], *change = &acceleration[row * n];
    const JointTurns<double> turns = joint_turns(model, at);
    double torque[max_joints];
    JointForces<double> borne;
    newton_euler(model, last, turns, at, velocity, change, up, 0, torque, &borne);
    Pose first = model.base;
    advance(model.step[0], at[0], first);
    const Vec3 force = -(first.rotation * borne.force[0]);
    const Vec3 moment = cross(first.position, force) - first.rotation * borne.moment[0];
    const double given[6] = {force.x, force.y, force.z, moment.x, moment.y, moment.z};
    std::copy_n(given, 6, &out[row * 6]);
  }
}

}  // namespace armwright
