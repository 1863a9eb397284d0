#include "armwright/limits/static_payload.hpp"

#include "armwright/limits/payload_of.hpp"
#include "armwright/support/in_packs.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

void static_payloads(const Model& model, const Vec3& centre, Limit limit, std::span<const double> q, const StaticPayloads& out) {
  const std::size_t n = model.joint_count, count = rows_of(model, q);
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    std::size_t row = 0;
    in_packs<T, max_joints, 1>(count, {q.data()}, {n}, out.by_joint.data(), n, [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
      Pose3<T> frames[max_joints];
      joint_frames(model, in[0], frames);
      T own[max_joints], per_kilogram[max_joints], by_joint[max_joints];
      holding_torques(model, centre, frames, own, per_kilogram);
      const HeldMass<T> held = held_mass(model, limit, own, per_kilogram, by_joint);
      store_rows(by_joint, n, to, n);
      for (std::size_t k = 0; k < width_of<T> && row < count; ++k, ++row) {
        out.mass[row] = lane(held.mass, k);
        out.joint[row] = static_cast<std::int32_t>(lane(held.joint, k));
        out.holds_itself[row] = lane(held.holds_itself, k);
      }
    });
  });
}

}  // namespace armwright
