#pragma once

#include "armwright/dynamics/newton_euler.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/support/in_packs.hpp"

namespace armwright {

/// A pack of successive rows of a motion, and what Newton and Euler tell of it, springs left out.
template <class T>
struct MotionRows {
  const double* q;  ///< rows × joints, as they came
  T angle[max_joints], speed[max_joints], acceleration[max_joints], torque[max_joints];
  JointForces<T> borne;
};

/// Calls each(rows, out) for every pack of a batch of motions; `size` numbers a row go out, `Widest` at most.
template <class T, std::size_t Widest, class Each>
ARMWRIGHT_INLINE void each_motion(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed,
                                  std::span<const double> acceleration, std::span<double> out, std::size_t size, const Each& each) {
  const std::size_t n = model.joint_count;
  const Inertia last = model.link[n - 1] + load;
  const Vec3 up = transpose_times(model.base.rotation, -model.gravity);
  in_packs<T, Widest < max_joints ? max_joints : Widest, 3>(rows_of(model, q), {q.data(), speed.data(), acceleration.data()}, {n, n, n}, out.data(), size,
                                                            [&](const auto& in, double* to) ARMWRIGHT_INLINE_LAMBDA {
    MotionRows<T> rows;
    rows.q = in[0];
    load_joints(model, in[0], rows.angle);
    load_joints(model, in[1], rows.speed);
    load_joints(model, in[2], rows.acceleration);
    JointTurns<T> turns;
    joint_turns(model, rows.angle, turns);
    newton_euler(model, last, turns, rows.angle, rows.speed, rows.acceleration, spread<T>(up), 0, rows.torque, &rows.borne);
    each(rows, to);
  });
}

/// Takes from the torques what the counterbalance springs give.
template <class T>
ARMWRIGHT_INLINE void subtract_springs_of(const Model& model, MotionRows<T>& rows) {
  Pose3<T> frames[max_joints];
  joint_frames(model, rows.q, frames);
  subtract_springs(model, frames, rows.torque);
}

}  // namespace armwright
