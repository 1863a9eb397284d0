#include "armwright/motion/drive_torques.hpp"

#include "armwright/dynamics/motion_rows.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

template <class T>
ARMWRIGHT_INLINE void through_drives(const Model& model, const AxisDrive* drives, const T* torque, const T* speed, const T* acceleration, double* to) {
  const std::size_t n = model.joint_count;
  T axis[max_joints], velocity[max_joints], change[max_joints];
  axis_torques(model, torque, axis);
  axis_motion(model, speed, velocity);
  axis_motion(model, acceleration, change);
  for (std::size_t k = 0; k < n; ++k) store_rows(motor_torque(drives[k], axis[k], velocity[k], change[k], velocity[k]), to, n, k);
}

}  // namespace

void motor_torques(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                   std::span<const double> acceleration, std::span<double> out) {
  const std::vector<AxisDrive> drives = axis_drives(model);
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    each_motion<T, max_joints>(model, load, q, speed, acceleration, out, model.joint_count, [&](MotionRows<T>& rows, double* to) ARMWRIGHT_INLINE_LAMBDA {
      if (!model.springs.empty()) subtract_springs_of(model, rows);
      through_drives(model, drives.data(), rows.torque, rows.speed, rows.acceleration, to);
    });
  });
}

void motor_torques_of(const Model& model, std::span<const double> joint_torque, std::span<const double> speed,
                      std::span<const double> acceleration, std::span<double> out) {
  const std::size_t n = model.joint_count;
  const std::vector<AxisDrive> drives = axis_drives(model);
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_packs<T, max_joints, 3>(rows_of(model, speed), {joint_torque.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), n,
                               [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
      T torque[max_joints], velocity[max_joints], change[max_joints];
      load_joints(model, in[0], torque);
      load_joints(model, in[1], velocity);
      load_joints(model, in[2], change);
      through_drives(model, drives.data(), torque, velocity, change, to);
    });
  });
}

}  // namespace armwright
