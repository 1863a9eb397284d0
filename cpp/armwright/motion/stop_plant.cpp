#include "armwright/motion/stop_plant.hpp"

#include "armwright/dynamics/springs.hpp"
#include "armwright/dynamics/world_bodies.hpp"
#include "armwright/kinematics/jacobian_columns.hpp"

namespace armwright {

namespace {

// Cᵀ M C and Cᵀ b in place.
ARMWRIGHT_INLINE void to_axes(const Model& model, double* M, double* bias) {
  const std::size_t n = model.joint_count;
  const double* C = model.coupling.matrix.data();
  double part[max_joints * max_joints], torque[max_joints];
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t k = 0; k < n; ++k) {
      part[i * n + k] = 0;
      for (std::size_t j = 0; j < n; ++j) part[i * n + k] += M[i * n + j] * C[j * n + k];
    }
  for (std::size_t k = 0; k < n; ++k) {
    torque[k] = 0;
    for (std::size_t j = 0; j < n; ++j) torque[k] += C[j * n + k] * bias[j];
    for (std::size_t l = 0; l <= k; ++l) {
      double sum = 0;
      for (std::size_t j = 0; j < n; ++j) sum += C[j * n + k] * part[j * n + l];
      M[k * n + l] = M[l * n + k] = sum;
    }
  }
  for (std::size_t k = 0; k < n; ++k) bias[k] = torque[k];
}

}  // namespace

void joints_of_axes(const Model& model, const double* axis, double* joint) {
  const std::size_t n = model.joint_count;
  for (std::size_t i = 0; i < n; ++i) {
    joint[i] = axis[i];
    if (model.coupling.none()) continue;
    joint[i] = 0;
    for (std::size_t k = 0; k < n; ++k) joint[i] += model.coupling.matrix[i * n + k] * axis[k];
  }
}

ARMWRIGHT_BATCH void plant_terms(const Model& model, const Inertia& last, const double* axis, const double* axis_speed, double* M, double* bias) {
  double coupled_q[max_joints], coupled_speed[max_joints];
  const double *q = axis, *speed = axis_speed;
  if (!model.coupling.none()) {
    joints_of_axes(model, axis, coupled_q);
    joints_of_axes(model, axis_speed, coupled_speed);
    q = coupled_q, speed = coupled_speed;
  }
  Pose frames[max_joints];
  joint_frames(model, q, frames);
  WorldBodies<double> bodies;
  world_bodies(model, last, frames, bodies);
  bias_of(model, bodies, speed, bias);
  if (!model.springs.empty()) subtract_springs(model, frames, bias);
  mass_matrix_of(bodies, model.joint_count, M);
  if (!model.coupling.none()) to_axes(model, M, bias);
}

ToolMotion tool_motion(const Model& model, const double* q, const double* speed) {
  Pose frames[max_joints];
  joint_frames(model, q, frames);
  JacobianColumn<double> columns[max_joints];
  jacobian_columns(model, frames, columns);
  ToolMotion tool{frames[model.joint_count - 1] * model.tool.position, {0, 0, 0}};
  for (std::size_t i = 0; i < model.joint_count; ++i) tool.velocity = tool.velocity + speed[i] * columns[i].linear;
  return tool;
}

}  // namespace armwright
