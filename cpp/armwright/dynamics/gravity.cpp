#include "armwright/dynamics/gravity.hpp"

#include "armwright/dynamics/gravity_of.hpp"
#include "armwright/support/in_fours.hpp"

namespace armwright {

ARMWRIGHT_BATCH void gravity_torques(const Model& model, const Inertia& load, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count;
  in_fours<max_joints, 1>(rows_of(model, q), {q.data()}, {n}, out.data(), n, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Pose3<Lanes> frames[max_joints];
    Lanes torque[max_joints];
    joint_frames(model, in[0], frames);
    gravity_of(model, load, frames, torque);
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t k = 0; k < Lanes::width; ++k) to[k * n + i] = torque[i][k];
  });
}

}  // namespace armwright
