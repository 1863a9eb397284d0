#pragma once

#include "armwright/model/compile.hpp"
#include "armwright/motion/stop.hpp"
#include "cell_cases.hpp"

namespace armwright::testing {

/// A motor without stages: rotor inertia, and whatever is set on it afterwards.
inline DriveSpec bare_drive(double rotor_inertia = 0) {
  DriveSpec drive;
  drive.motor.continuous = drive.motor.peak = {{0, 1}, {1000, 1}};
  drive.motor.rotor_inertia = rotor_inertia;
  return drive;
}

/// A point mass on a massless bar, turning about a level axis; q = 0 level, rising.
inline CellSpec pendulum(double mass, double length) {
  CellSpec cell;
  cell.arm.joints = {joint("axis", identity_pose, {0, -1, 0}, -10, 10)};
  cell.arm.links.resize(1);
  cell.arm.links[0].inertia = {mass, {length, 0, 0}};
  cell.arm.flange = at({length, 0, 0});
  return cell;
}

/// A body that slides along a line at an angle (rad) above the level.
inline CellSpec slope(double mass, double angle, double lower = -100, double upper = 100) {
  CellSpec cell;
  cell.arm.joints = {joint("slide", identity_pose, {std::cos(angle), 0, std::sin(angle)}, lower, upper)};
  cell.arm.joints[0].kind = JointKind::prismatic;
  cell.arm.links.resize(1);
  cell.arm.links[0].inertia = {mass, {0, 0, 0}};
  return cell;
}

inline StopAnswer stopped(const CellSpec& cell, const std::vector<double>& q, const std::vector<double>& speed, StopOptions options = {}) {
  const Model model = compile(cell);
  return stop(model, model.load, q, speed, options);
}

inline StopOptions controlled(double deceleration) {
  StopOptions options;
  options.category = StopCategory::controlled;
  options.deceleration.fill(deceleration);
  return options;
}

}  // namespace armwright::testing
