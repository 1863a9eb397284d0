#pragma once

#include <array>
#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "armwright/model/drive_spec.hpp"

namespace armwright {

inline constexpr std::size_t max_stages = 4;
inline constexpr std::size_t max_curve_points = 12;

/// A torque–speed curve: straight between its points, nothing beyond the last.
struct TorqueSpeedCurve {
  std::array<double, max_curve_points> speed{}, torque{};  ///< rad/s, N m
  std::size_t count = 0;
  double max_speed() const { return speed[count - 1]; }
};

/// What drives an axis, checked. Stage 0 is next to the motor. See DriveSpec for units and senses.
struct Drive {
  bool present = false;  ///< false: no motor described; the joint's stated torques stand alone
  std::string motor_name;
  TorqueSpeedCurve continuous, peak;
  double rotor_inertia = 0, winding_loss = 0, torque_constant = 0, encoder_counts = 0;
  std::array<StageSpec, max_stages> stage{};
  std::size_t stage_count = 0;
  double ratio = 1;       ///< motor turns a turn of the axis, product of the stages' with sign (rad/m where it slides)
  double efficiency = 1, efficiency_back = 1;  ///< products of the stages'
  double inertia = 0;     ///< of rotor and stages, at the motor's shaft, kg m²
  bool has_brake = false;
  BrakeSpec brake;
  FrictionSpec motor_friction, joint_friction;
};

/// A spring between two links, its points in joint frames; frame -1 is the world or, with a track, the carriage's (0).
struct Spring {
  std::string name;
  int frame_a = -1, frame_b = 0;  ///< joint frames F(i); -1: stands still in the world
  Vec3 a, b;
  double length = 0, pull = 0, rate = 0;
  bool pulls_only = false;
  double shortest = 0, longest = std::numeric_limits<double>::infinity();
};

/// Joint angles and motor chains that run through one another (a belt through a wrist): q = C · axis, where axis[k] is
/// the output of drive k; torques go the other way, tau_axis = Cᵀ · tau_joint. Row-major, joint_count × joint_count; empty:
/// every drive turns its own joint.
struct Coupling {
  std::vector<double> matrix, inverse;
  bool none() const { return matrix.empty(); }
};

}  // namespace armwright
