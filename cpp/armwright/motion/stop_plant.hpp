#pragma once

#include "armwright/model/model.hpp"

namespace armwright {

/// Mass matrix of the links (row-major n × n) and torques without acceleration (gravity, Coriolis, centrifugal, less the
/// springs'), both as the axes feel them, at axis positions and speeds. `last`: the last link with what it carries.
void plant_terms(const Model& model, const Inertia& last, const double* axis, const double* speed, double* M, double* bias);

/// Joint positions (or speeds) from those of the axes, q = C · axis.
void joints_of_axes(const Model& model, const double* axis, double* joint);

/// Where the tool point is (m) and how it moves (m/s), from joint positions and speeds.
struct ToolMotion {
  Vec3 position, velocity;
};
ToolMotion tool_motion(const Model& model, const double* q, const double* speed);

}  // namespace armwright
