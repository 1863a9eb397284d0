#pragma once

#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// Poses of the tool frame in the world for a batch of joint vectors. `q`: rows × joint_count. `poses`: rows × 16, a
/// row-major 4×4 each.
void tool_poses(const Model& model, std::span<const double> q, std::span<double> poses);

/// Poses of all link frames in the world. `poses`: rows × joint_count × 16.
void link_poses(const Model& model, std::span<const double> q, std::span<double> poses);

/// All joint frames in the world of four joint vectors, found side by side: out[row * joint_count + joint].
void joint_frames_of_four(const Model& model, const double* q, Pose* out);

}  // namespace armwright
