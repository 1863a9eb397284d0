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
      double mass[width_of<T>], joint[width_of<T>];
      store_run(held.mass, mass), store_run(held.joint, joint);
      const auto tell = [&](std::size_t rows) ARMWRIGHT_INLINE_LAMBDA {
        for (std::size_t k = 0; k < rows; ++k) {
          out.mass[row + k] = mass[k];
          out.joint[row + k] = static_cast<std::int32_t>(joint[k]);
          out.holds_itself[row + k] = lane(held.holds_itself, k);
        }
      };
      if (row + width_of<T> <= count) tell(width_of<T>);  // a number of rows that the compiler knows
      else tell(count - row);
      row += width_of<T>;
    });
  });
}

}  // namespace armwright
