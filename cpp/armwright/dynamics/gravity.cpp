#include "armwright/dynamics/gravity.hpp"

#include "armwright/dynamics/gravity_of.hpp"
#include "armwright/support/in_packs.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

void gravity_torques(const Model& model, const Inertia& load, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_packs<T, max_joints, 1>(rows_of(model, q), {q.data()}, {n}, out.data(), n, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
      Pose3<T> frames[max_joints];
      T torque[max_joints];
      joint_frames(model, in[0], frames);
      gravity_of(model, load, frames, torque);
      store_rows(torque, n, to, n);
    });
  });
}

}  // namespace armwright
