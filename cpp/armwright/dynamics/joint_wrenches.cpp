#include "armwright/dynamics/joint_wrenches.hpp"

#include "armwright/dynamics/newton_euler.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/support/in_fours.hpp"

namespace armwright {

namespace {

// Four rows of a motion and what their joints bear, springs left out.
struct FourRows {
  Lanes angle[max_joints], velocity[max_joints], change[max_joints];
  JointForces<Lanes> borne;
};

ARMWRIGHT_INLINE void solve_four(const Model& model, const Inertia& last, const Vec3& up, const std::array<const double*, 3>& in, FourRows& rows) {
  const std::size_t n = model.joint_count;
  for (std::size_t i = 0; i < n; ++i) {
    rows.angle[i] = load_joint<Lanes>(in[0], n, i);
    rows.velocity[i] = load_joint<Lanes>(in[1], n, i);
    rows.change[i] = load_joint<Lanes>(in[2], n, i);
  }
  const JointTurns<Lanes> turns = joint_turns(model, rows.angle);
  Lanes torque[max_joints];
  newton_euler(model, last, turns, rows.angle, rows.velocity, rows.change, spread<Lanes>(up), 0, torque, &rows.borne);
}

// All beyond a joint is pushed by the springs that reach across it; the joint gives that much less.
ARMWRIGHT_INLINE void subtract_spring_forces(const Model& model, const double* q, JointForces<Lanes>& borne) {
  Pose3<Lanes> frames[max_joints];
  joint_frames(model, q, frames);
  each_spring_force(model, frames, [&](int first, int last, const Vector3<Lanes>& end, const Vector3<Lanes>& force) ARMWRIGHT_INLINE_LAMBDA {
    for (int i = first; i <= last; ++i) {
      const Pose3<Lanes>& X = frames[i];
      borne.force[i] = borne.force[i] - transpose_times(X.rotation, force);
      borne.moment[i] = borne.moment[i] - transpose_times(X.rotation, cross(end - X.position, force));
    }
  });
}

ARMWRIGHT_INLINE void store_wrench(const Vector3<Lanes>& force, const Vector3<Lanes>& moment, double* out, std::size_t stride) {
  for (std::size_t k = 0; k < Lanes::width; ++k) {
    const double row[6] = {force.x[k], force.y[k], force.z[k], moment.x[k], moment.y[k], moment.z[k]};
    std::memcpy(out + k * stride, row, sizeof(row));
  }
}

}  // namespace

ARMWRIGHT_BATCH void joint_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                                    std::span<const double> acceleration, std::span<double> out) {
  const std::size_t n = model.joint_count;
  const Inertia last = model.link[n - 1] + load;
  const Vec3 up = transpose_times(model.base.rotation, -model.gravity);
  in_fours<6 * max_joints, 3>(rows_of(model, q), {q.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), 6 * n,
                              [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    FourRows rows;
    solve_four(model, last, up, in, rows);
    if (!model.springs.empty()) subtract_spring_forces(model, in[0], rows.borne);
    for (std::size_t i = 0; i < n; ++i) {
      const Pose3<Lanes> link = spread<Lanes>(model.link_frame[i]);
      const Vector3<Lanes>& force = rows.borne.force[i];
      const Vector3<Lanes> moment = rows.borne.moment[i] - cross(link.position, force);
      store_wrench(transpose_times(link.rotation, force), transpose_times(link.rotation, moment), to + 6 * i, 6 * n);
    }
  });
}

ARMWRIGHT_BATCH void mount_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                                    std::span<const double> acceleration, std::span<double> out) {
  const std::size_t n = model.joint_count, arm = model.has_track ? 1 : 0;
  const Inertia last = model.link[n - 1] + load;
  const Vec3 up = transpose_times(model.base.rotation, -model.gravity);
  in_fours<max_joints, 3>(rows_of(model, q), {q.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), 6,
                          [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    FourRows rows;
    solve_four(model, last, up, in, rows);
    Pose3<Lanes> frames[max_joints];
    joint_frames(model, in[0], frames);
    // In the world: the mount, and how it and the foot on it are sped up.
    Pose3<Lanes> mount = spread<Lanes>(model.mount);
    Vector3<Lanes> fall = spread<Lanes>(-model.gravity);
    if (arm == 1) {
      mount = frames[0] * mount;
      fall = fall + rows.change[0] * frames[0].rotation.z;
    }
    // Both the arm and the foot push back against what bears and moves them.
    const Vector3<Lanes> foot = Lanes(model.base_link.mass) * fall;
    const Vector3<Lanes> centre = mount.rotation * spread<Lanes>(model.base_link.centre);
    const Vector3<Lanes> force = frames[arm].rotation * rows.borne.force[arm];
    const Vector3<Lanes> moment = frames[arm].rotation * rows.borne.moment[arm] + cross(frames[arm].position - mount.position, force) + cross(centre, foot);
    store_wrench(transpose_times(mount.rotation, -(force + foot)), transpose_times(mount.rotation, -moment), to, 6);
  });
}

}  // namespace armwright
