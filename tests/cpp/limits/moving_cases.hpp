#pragma once

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "armwright/dynamics/inverse_dynamics.hpp"
#include "armwright/dynamics/springs.hpp"
#include "armwright/limits/speed_payload.hpp"
#include "armwright/model/compile.hpp"
#include "armwright/motion/drive_torques.hpp"
#include "cell_cases.hpp"

// Arms with drives, springs and coupling, and what each limit of theirs is used at by a motion: the full inverse dynamics
// through every drive, which shares with moving_payload() neither its mass matrices nor its solving for the mass.

namespace armwright::testing {

inline DriveSpec some_drive(Draw& draw, std::size_t stages, double strength) {
  DriveSpec drive;
  double ratio = 1;
  for (std::size_t s = 0; s < stages; ++s) {
    StageSpec stage;
    stage.name = "stage " + std::to_string(s);
    stage.ratio = draw.uniform(4, 12) * (draw.uniform(0, 1) < 0.4 ? -1 : 1);
    stage.efficiency = draw.uniform(0.7, 1);
    stage.efficiency_back = draw.uniform(0.5, 1);
    stage.inertia = draw.uniform(0, 1e-4);
    ratio *= std::fabs(stage.ratio);
    stage.rated_torque = strength * draw.uniform(0.3, 1.2) * ratio / std::pow(8.0, static_cast<double>(stages));
    stage.repeated_peak_torque = 2 * stage.rated_torque;
    drive.stages.push_back(stage);
  }
  const double rated = strength / ratio * draw.uniform(0.4, 1.2);
  drive.motor.continuous = {{0, rated}, {2000, rated}};
  drive.motor.peak = {{0, 3 * rated}, {150, 2.6 * rated}, {2000, 1.2 * rated}};
  drive.motor.rotor_inertia = draw.uniform(1e-5, 1e-4);
  drive.motor_friction = {draw.uniform(0, 0.01) * rated, draw.uniform(0, 0.01) * rated, 1e-5 * rated};
  drive.joint_friction = {draw.uniform(0, 0.01) * strength, draw.uniform(0, 0.01) * strength, draw.uniform(0, 0.01) * strength};
  return drive;
}

struct MovingCase {
  std::shared_ptr<const Model> model;
  std::vector<double> q;
  Inertia unit_load;  // in the tool frame
};

/// Any arm: drives on most joints, stated torques on some, now and then springs and coupling.
inline MovingCase moving_case(Draw& draw, std::size_t joints, bool coupled, bool sprung, bool sliding = false) {
  CellSpec cell = random_cell(draw, joints, sliding);
  cell.load.reset();
  for (std::size_t i = 0; i < joints; ++i) {
    JointSpec& j = cell.arm.joints[i];
    j.speed = draw.uniform(0.5, 2), j.acceleration = draw.uniform(1, 3);
    const double strength = 1500 * draw.uniform(0.5, 1.5);
    if (i % 4 != 3) j.drive = some_drive(draw, 1 + i % 3, strength);
    if (i % 2 == 1) j.torque_continuous = strength * 0.4, j.torque_peak = strength * 0.8;
  }
  if (coupled) {
    cell.arm.coupling.assign(joints * joints, 0.0);
    for (std::size_t i = 0; i < joints; ++i)
      for (std::size_t j = 0; j < joints; ++j) cell.arm.coupling[i * joints + j] = i == j ? 1 : draw.uniform(-0.3, 0.3);
  }
  if (sprung) {
    SpringSpec spring;
    spring.point_a = draw.vector(0.3), spring.point_b = draw.vector(0.3), spring.link_b = static_cast<int>(joints) / 2;
    spring.length = 0.4, spring.pull = 200, spring.rate = 500;
    cell.arm.springs = {spring};
  }
  MovingCase made{std::make_shared<const Model>(compile(cell)), {}, {}};
  for (std::size_t i = 0; i < made.model->joint_count; ++i) made.q.push_back(draw.uniform(std::max(made.model->lower[i], -2.5), std::min(made.model->upper[i], 2.5)));
  const Vec3 size = draw.vector(0.2);
  made.unit_load = {1, draw.vector(0.2), size.x * size.x + 0.01, size.y * size.y + 0.01, size.z * size.z + 0.01, 0, 0, 0};
  return made;
}

inline Inertia times(double mass, const Inertia& unit) {
  return {mass, unit.centre, mass * unit.xx, mass * unit.yy, mass * unit.zz, mass * unit.xy, mass * unit.xz, mass * unit.yz};
}

/// Share of each limit that a motion with a mass uses, signed with the torque: stated, stages, motor of each axis in turn.
inline std::vector<double> uses(const MovingCase& made, double mass, const std::vector<double>& speed, const std::vector<double>& acceleration) {
  Model model = *made.model;
  const std::size_t n = model.joint_count;
  Eigen::VectorXd torque = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(n));
  Pose frames[max_joints];
  joint_frames(model, made.q.data(), frames);
  subtract_springs(model, frames, torque.data());
  model.springs.clear();
  std::vector<double> moved(n);
  inverse_dynamics(model, model.tool * times(mass, made.unit_load), made.q, speed, acceleration, moved);
  torque += Eigen::Map<Eigen::VectorXd>(moved.data(), static_cast<Eigen::Index>(n));
  Eigen::VectorXd w = Eigen::Map<const Eigen::VectorXd>(speed.data(), static_cast<Eigen::Index>(n)), a = Eigen::Map<const Eigen::VectorXd>(acceleration.data(), static_cast<Eigen::Index>(n));
  if (!model.coupling.none()) {
    const Eigen::MatrixXd C = Eigen::Map<const Eigen::Matrix<double, -1, -1, Eigen::RowMajor>>(model.coupling.matrix.data(), static_cast<Eigen::Index>(n), static_cast<Eigen::Index>(n));
    torque = (C.transpose() * torque).eval();
    w = C.lu().solve(w).eval();
    a = C.lu().solve(a).eval();
  }
  const auto drives = axis_drives(model);
  std::vector<double> used;
  for (std::size_t k = 0; k < n; ++k) {
    const auto i = static_cast<Eigen::Index>(k);
    const auto state = drive_state(drives[k], torque[i], w[i], a[i], w[i]);
    used.push_back(torque[i] / model.stated_peak[k]);
    for (std::size_t s = 0; s < drives[k].stage_count; ++s) used.push_back(state.stage_torque[s] / drives[k].stage[s].repeated_peak_torque);
    used.push_back(state.motor_torque / curve_torque(drives[k].peak, state.motor_speed));
  }
  return used;
}

inline double greatest(const std::vector<double>& used) {
  double most = 0;
  for (const double share : used) most = std::max(most, std::fabs(share));
  return most;
}

inline MovingPayload one(const MovingCase& made, const MotionDemand& demand) {
  MovingPayload answer;
  moving_payloads(prepare_moving(made.model, made.unit_load, demand), made.q, {&answer, 1});
  return answer;
}

/// Calls each(signs) for every vector of signs.
template <class Each>
void for_signs(std::size_t n, Each&& each) {
  for (std::size_t p = 0; p < std::size_t{1} << n; ++p) {
    std::vector<double> signs(n);
    for (std::size_t i = 0; i < n; ++i) signs[i] = (p >> i & 1) ? -1 : 1;
    each(signs);
  }
}

}  // namespace armwright::testing
