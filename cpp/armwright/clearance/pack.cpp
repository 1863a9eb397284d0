#include "armwright/clearance/pack.hpp"

#include <algorithm>

#include "armwright/kinematics/chain.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

template <class T>
ARMWRIGHT_INLINE void seat_rows(const Model& model, const double* q, ClearanceWorkspace& work) {
  Pose3<T> frames[max_joints];
  joint_frames<T>(model, q, frames);
  seat_frames(frames, model.joint_count, work);
}

void seat_full(const Model& model, const double* q, ClearanceWorkspace& work) {
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { seat_rows<T>(model, q, work); });
}

}  // namespace

std::size_t pack_width() {
  std::size_t width = 0;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { width = width_of<T>; });
  return width;
}

void seat_pack(const Model& model, const double* q, std::size_t count, ClearanceWorkspace& work) {
  const std::size_t n = model.joint_count, width = pack_width();
  work.lanes = count, work.joints = n;
  if (count == width) return seat_full(model, q, work);
  double filled[widest_pack * max_joints];
  for (std::size_t k = 0; k < width; ++k) std::copy_n(q + (k < count ? k : 0) * n, n, filled + k * n);
  seat_full(model, filled, work);
}

void seat_pack(const Pose* const* frames, std::size_t count, std::size_t joints, ClearanceWorkspace& work) {
  const std::size_t width = pack_width();
  work.lanes = count, work.joints = joints;
  for (std::size_t joint = 0; joint < joints; ++joint) {
    double* to = &work.frames[joint * 12 * widest_pack];
    for (std::size_t k = 0; k < width; ++k) {
      const auto& [R, p] = frames[k < count ? k : 0][joint];
      const double numbers[12] = {R.x.x, R.x.y, R.x.z, R.y.x, R.y.y, R.y.z, R.z.x, R.z.y, R.z.z, p.x, p.y, p.z};
      for (std::size_t i = 0; i < 12; ++i) to[i * widest_pack + k] = numbers[i];
    }
  }
}

const Pose* frames_of(ClearanceWorkspace& work, std::size_t lane) {
  for (std::size_t joint = 0; joint < work.joints; ++joint) {
    const double* from = &work.frames[joint * 12 * widest_pack] + lane;
    const auto vector = [&](std::size_t i) { return Vec3{from[i * widest_pack], from[(i + 1) * widest_pack], from[(i + 2) * widest_pack]}; };
    work.of_one[joint] = {{vector(0), vector(3), vector(6)}, vector(9)};
  }
  return work.of_one.data();
}

}  // namespace armwright
