#include "armwright/dynamics/joint_wrenches.hpp"

#include "armwright/dynamics/motion_rows.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

// All beyond a joint is pushed by the springs that reach across it; the joint gives that much less.
template <class T>
ARMWRIGHT_INLINE void subtract_spring_forces(const Model& model, const double* q, JointForces<T>& borne) {
  Pose3<T> frames[max_joints];
  joint_frames(model, q, frames);
  each_spring_force(model, frames, [&](int first, int last, const Vector3<T>& end, const Vector3<T>& force) ARMWRIGHT_INLINE_LAMBDA {
    for (int i = first; i <= last; ++i) {
      const Pose3<T>& X = frames[i];
      borne.force[i] = borne.force[i] - transpose_times(X.rotation, force);
      borne.moment[i] = borne.moment[i] - transpose_times(X.rotation, cross(end - X.position, force));
    }
  });
}

template <class T>
ARMWRIGHT_INLINE void store_wrench(const Vector3<T>& force, const Vector3<T>& moment, double* out, std::size_t stride) {
  store_quad(force.x, force.y, force.z, moment.x, out, stride);
  store_rows(moment.y, out, stride, 4);
  store_rows(moment.z, out, stride, 5);
}

}  // namespace

void joint_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                    std::span<const double> acceleration, std::span<double> out) {
  const std::size_t n = model.joint_count;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    each_motion<T, 6 * max_joints>(model, load, q, speed, acceleration, out, 6 * n, [&](MotionRows<T>& rows, double* to) ARMWRIGHT_INLINE_LAMBDA {
      if (!model.springs.empty()) subtract_spring_forces(model, rows.q, rows.borne);
      for (std::size_t i = 0; i < n; ++i) {
        const Pose3<T> link = spread<T>(model.link_frame[i]);
        const Vector3<T>& force = rows.borne.force[i];
        const Vector3<T> moment = rows.borne.moment[i] - cross(link.position, force);
        store_wrench(transpose_times(link.rotation, force), transpose_times(link.rotation, moment), to + 6 * i, 6 * n);
      }
    });
  });
}

void mount_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                    std::span<const double> acceleration, std::span<double> out) {
  const std::size_t arm = model.has_track ? 1 : 0;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    each_motion<T, 6>(model, load, q, speed, acceleration, out, 6, [&](const MotionRows<T>& rows, double* to) ARMWRIGHT_INLINE_LAMBDA {
      Pose3<T> frames[max_joints];
      joint_frames(model, rows.q, frames);
      // In the world: the mount, and how it and the foot on it are sped up.
      Pose3<T> mount = spread<T>(model.mount);
      Vector3<T> fall = spread<T>(-model.gravity);
      if (arm == 1) {
        mount = frames[0] * mount;
        fall = fall + rows.acceleration[0] * frames[0].rotation.z;
      }
      // Both the arm and the foot push back against what bears and moves them.
      const Vector3<T> foot = T(model.base_link.mass) * fall;
      const Vector3<T> centre = mount.rotation * spread<T>(model.base_link.centre);
      const Vector3<T> force = frames[arm].rotation * rows.borne.force[arm];
      const Vector3<T> moment = frames[arm].rotation * rows.borne.moment[arm] + cross(frames[arm].position - mount.position, force) + cross(centre, foot);
      store_wrench(transpose_times(mount.rotation, -(force + foot)), transpose_times(mount.rotation, -moment), to, 6);
    });
  });
}

void base_wrenches(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                   std::span<const double> acceleration, std::span<double> out) {
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    each_motion<T, 6>(model, load, q, speed, acceleration, out, 6, [&](const MotionRows<T>& rows, double* to) ARMWRIGHT_INLINE_LAMBDA {
      Pose3<T> frames[max_joints];
      joint_frames(model, rows.q, frames);
      const Vector3<T> force = -(frames[0].rotation * rows.borne.force[0]);
      const Vector3<T> moment = cross(frames[0].position, force) - frames[0].rotation * rows.borne.moment[0];
      store_wrench(force, moment, to, 6);
    });
  });
}

}  // namespace armwright
