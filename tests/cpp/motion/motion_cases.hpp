#pragma once

#include <algorithm>
#include <limits>

#include "armwright/elements/torque_speed_curve.hpp"
#include "armwright/kinematics/forward.hpp"
#include "armwright/motion/cycle.hpp"
#include "armwright/motion/drive_torques.hpp"
#include "drive_cases.hpp"

namespace armwright::testing {

inline constexpr double open_limit = std::numeric_limits<double>::infinity();

/// Joint limits for every joint of a cell, and its track.
inline void set_limits(CellSpec& cell, double speed, double acceleration, double jerk = open_limit) {
  for (JointSpec& j : cell.arm.joints) j.speed = speed, j.acceleration = acceleration, j.jerk = jerk;
  if (cell.track) cell.track->speed = speed, cell.track->acceleration = acceleration, cell.track->jerk = jerk;
}

/// One bar turning about an upright axis (`level` false) or a level one, inertia about the axis `inertia`, mass times lever `moment`.
inline CellSpec bar(double inertia, double moment, bool level) {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, level ? Vec3{0, -1, 0} : Vec3{0, 0, 1}, -50, 50)};
  cell.arm.links.resize(1);
  cell.arm.links[0].name = "link 1";
  const double mass = 1 + 4 * moment * moment / inertia, lever = moment / mass;
  const double about_centre = inertia - mass * lever * lever;
  cell.arm.links[0].inertia = {mass, {lever, 0, 0}, 0.5 * about_centre, about_centre, about_centre, 0, 0, 0};
  if (!level) cell.arm.links[0].inertia.yy = 0.5 * about_centre;
  else cell.arm.links[0].inertia.zz = 0.5 * about_centre;
  return cell;
}

inline MoveSpec to_joints(std::vector<double> q) {
  MoveSpec move;
  move.q = std::move(q);
  return move;
}
inline MoveSpec to_pose(const Pose& to) {
  MoveSpec move;
  move.kind = MoveKind::line;
  move.to = to;
  return move;
}
inline CycleSpec cycle_of(std::vector<double> start, std::vector<MoveSpec> moves) {
  CycleSpec cycle;
  cycle.start = std::move(start), cycle.moves = std::move(moves);
  return cycle;
}
inline double duration_of(const CyclePlan& plan) { return plan.motion.time.empty() ? 0 : plan.motion.time.back(); }

inline Pose tool_at(const Model& model, const double* q) {
  double rows[16];
  tool_poses(model, {q, model.joint_count}, rows);
  return pose_from_rows(rows);
}

/// The greatest share of any limit that a motion's rows use, found from the batch functions on the rows alone, which know nothing
/// of paths.
inline double greatest_use(const Model& model, const CycleSpec& cycle, const TimedMotion& m) {
  const std::size_t n = model.joint_count;
  const std::vector<AxisDrive> drives = axis_drives(model);
  double most = 0;
  for (std::size_t row = 0; row < m.time.size(); ++row) {
    const std::span<const double> q{m.q.data() + row * n, n}, v{m.speed.data() + row * n, n}, a{m.acceleration.data() + row * n, n};
    std::vector<double> torque(n), motor(n), w(n);
    const Inertia load = m.load[row] < 0 ? Inertia{} : model.tool * cycle.loads[static_cast<std::size_t>(m.load[row])];
    motor_torques(model, load, q, v, a, motor);
    axis_motion(model, v.data(), w.data());
    for (std::size_t i = 0; i < n; ++i) {
      most = std::max({most, std::fabs(v[i]) / model.speed[i], std::fabs(a[i]) / model.acceleration[i]});
      if (!drives[i].present) continue;
      const double speed = std::fabs(w[i] * drives[i].ratio);
      most = std::max(most, speed / drives[i].peak.max_speed());
      most = std::max(most, std::fabs(motor[i]) / curve_torque(drives[i].peak, std::min(speed, drives[i].peak.max_speed())));
    }
  }
  return most;
}

}  // namespace armwright::testing
