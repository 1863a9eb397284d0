#include "armwright/kinematics/forward.hpp"

#include "armwright/kinematics/chain.hpp"
#include "armwright/support/in_packs.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

template <class T>
ARMWRIGHT_INLINE void store_pose(const Pose3<T>& X, double* out, std::size_t stride) {
  const auto& [R, p] = X;
  store_quad(R.x.x, R.y.x, R.z.x, p.x, out, stride);
  store_quad(R.x.y, R.y.y, R.z.y, p.y, out + 4, stride);
  store_quad(R.x.z, R.y.z, R.z.z, p.z, out + 8, stride);
  store_quad(T(0.0), T(0.0), T(0.0), T(1.0), out + 12, stride);
}

}  // namespace

void tool_poses(const Model& model, std::span<const double> q, std::span<double> poses) {
  const std::size_t n = model.joint_count;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_packs<T, 16, 1>(rows_of(model, q), {q.data()}, {n}, poses.data(), 16, [&](const auto& in, double* out) ARMWRIGHT_INLINE_LAMBDA {
      T value[max_joints];
      JointTurns<T> turns;
      load_joints(model, in[0], value);
      joint_turns(model, value, turns);
      Pose3<T> frame = spread<T>(model.base);
      for (std::size_t i = 0; i < n; ++i) advance(model.step[i], value[i], turns.sine[i], turns.cosine[i], frame);
      store_pose(frame * spread<T>(model.tool), out, 16);
    });
  });
}

void link_poses(const Model& model, std::span<const double> q, std::span<double> poses) {
  const std::size_t n = model.joint_count;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_packs<T, 16 * max_joints, 1>(rows_of(model, q), {q.data()}, {n}, poses.data(), 16 * n, [&](const auto& in, double* out) ARMWRIGHT_INLINE_LAMBDA {
      Pose3<T> frames[max_joints];
      joint_frames(model, in[0], frames);
      for (std::size_t i = 0; i < n; ++i) store_pose(frames[i] * spread<T>(model.told_frame[i]), out + 16 * i, 16 * n);
    });
  });
}

ARMWRIGHT_BATCH void joint_frames_of_four(const Model& model, const double* q, Pose* out) {
  Pose3<Lanes> frames[max_joints];
  joint_frames<Lanes>(model, q, frames);
  const auto taken = [](const Vector3<Lanes>& v, std::size_t k) { return Vec3{v.x[k], v.y[k], v.z[k]}; };
  for (std::size_t k = 0; k < Lanes::width; ++k) {
    for (std::size_t i = 0; i < model.joint_count; ++i) {
      const auto& [R, p] = frames[i];
      out[k * model.joint_count + i] = {{taken(R.x, k), taken(R.y, k), taken(R.z, k)}, taken(p, k)};
    }
  }
}

}  // namespace armwright
