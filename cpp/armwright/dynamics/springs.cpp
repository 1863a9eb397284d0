#include "armwright/dynamics/springs.hpp"

namespace armwright {

void spring_states(const Model& model, std::span<const double> q, std::span<double> length, std::span<double> pull) {
  const std::size_t n = model.joint_count, springs = model.springs.size(), rows = rows_of(model, q);
  Pose frames[max_joints];
  for (std::size_t row = 0; row < rows; ++row) {
    joint_frames(model, q.data() + row * n, frames);
    for (std::size_t s = 0; s < springs; ++s) {
      const double reach = norm(spring_reach(model.springs[s], frames));
      length[row * springs + s] = reach;
      pull[row * springs + s] = spring_pull(model.springs[s], reach);
    }
  }
}

}  // namespace armwright
