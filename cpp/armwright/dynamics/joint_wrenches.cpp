#include "armwright/dynamics/joint_wrenches.hpp"

#include "armwright/dynamics/newton_euler.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/support/in_fours.hpp"

namespace armwright {

namespace {

// Four rows of a motion and what their joints bear, springs left out.
struct FourRows {
  const double* q;  // rows × joints
  Lanes angle[max_joints], velocity[max_joints], change[max_joints];
  JointForces<Lanes> borne;
};

// Calls store(rows, out) for every four rows; `size` numbers a row go out, six a joint at most.
template <class Store>
ARMWRIGHT_INLINE void each_four(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                                std::span<const double> acceleration, std::span<double> out, std::size_t size, Store store) {
  const std::size_t n = model.joint_count;
  const Inertia last = model.link[n - 1] + load;
  const Vec3 up = transpose_times(model.base.rotation, -model.gravity);
  in_fours<6 * max_joints, 3>(rows_of(model, q), {q.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), size,
                              [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    FourRows rows;
    rows.q = in[0];
    for (std::size_t i = 0; i < n; ++i) {
      rows.angle[i] = load_joint<Lanes>(in[0], n, i);
      rows.velocity[i] = load_joint<Lanes>(in[1], n, i);
      rows.change[i] = load_joint<Lanes>(in[2], n, i);
    }
    Lanes torque[max_joints];
    newton_euler(model, last, joint_turns(model, rows.angle), rows.angle, rows.velocity, rows.change, spread<Lanes>(up), 0, torque, &rows.borne);
    store(rows, to);
  });
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
  each_four(model, load, q, speed, acceleration, out, 6 * n, [&](FourRows& rows, double* to) ARMWRIGHT_INLINE_LAMBDA {
    if (!model.springs.empty()) subtract_spring_forces(model, rows.q, rows.borne);
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
  const std::size_t arm = model.has_track ? 1 : 0;
  each_four(model, load, q, speed, acceleration, out, 6, [&](const FourRows& rows, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Pose3<Lanes> frames[max_joints];
    joint_frames(model, rows.q, frames);
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

ARMWRIGHT_BATCH void base_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                                   std::span<const double> acceleration, std::span<double> out) {
  each_four(model, load, q, speed, acceleration, out, 6, [&](const FourRows& rows, double* to) ARMWRIGHT_INLINE_LAMBDA {
    Pose3<Lanes> frames[max_joints];
    joint_frames(model, rows.q, frames);
    const Vector3<Lanes> force = -(frames[0].rotation * rows.borne.force[0]);
    const Vector3<Lanes> moment = cross(frames[0].position, force) - frames[0].rotation * rows.borne.moment[0];
    store_wrench(force, moment, to, 6);
  });
}

}  // namespace armwright
