#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "armwright/dynamics/reflected.hpp"
#include "armwright/model/model.hpp"
#include "armwright/motion/drive_torques.hpp"

namespace armwright {

/// What the arm is asked to do with a load, zero for what is not asked. Each stands for itself, from rest; joint
/// accelerations and joint speeds, where both are asked, are asked together besides.
struct MotionDemand {
  double tool_acceleration = 0;  ///< m/s², of the tool point in any direction, the tool's attitude kept
  double turn_acceleration = 0;  ///< rad/s², of the tool about any axis, together with the former
  std::array<double, max_joints> joint_acceleration{};  ///< rad/s² (m/s²), all joints at once, each either way
  std::array<double, max_joints> joint_speed{};         ///< rad/s (m/s), all joints at once, each either way
};

/// Which demand the mass is limited by.
enum class Demand : std::int8_t { rest, tool_acceleration, joint_acceleration, joint_speed };

/// Which limit is met first.
enum class MovingLimit : std::int8_t { stated_torque, motor_torque, stage_torque, motor_speed, stage_speed, joint_acceleration, singular };

/// The largest mass that an arm moves as asked.
struct MovingPayload {
  double mass = std::numeric_limits<double>::infinity();  ///< kg; infinite where nothing limits it; 0 where the arm cannot move itself so
  std::int32_t axis = -1;           ///< whose limit it is; -1: none, or the singular posture's
  std::int8_t part = part_none;     ///< of that axis' drive, see axis_drive.hpp
  MovingLimit limit = MovingLimit::stated_torque;
  Demand demand = Demand::rest;
  bool moves_itself = true;         ///< whether the arm with its tool can do it at all
};

/// One limit of an axis at rest, as the axis feels it: |torque + inertia · acceleration| <= most. At rest the driving
/// efficiency counts both ways (see drive_state()), so that every torque along the drive is linear in the axis' torque and acceleration.
struct RestLimit {
  double most, inertia;  ///< N m, kg m² (N, kg)
  std::int8_t part;
};
struct AxisAtRest {
  std::array<RestLimit, max_stages + 2> limit{};
  std::size_t count = 0;
};
/// Peak limits: the stated peak, every stage's repeated peak, the motor's peak torque at rest. Those without bound are left out.
AxisAtRest axis_at_rest(const AxisDrive& drive);

/// What does not depend on the posture, made once; constant after, shared by threads.
struct MovingSetup {
  std::shared_ptr<const Model> model;
  Model load_only;             // the same chain without mass
  Inertia unit_load;           // of 1 kg, in the last joint frame
  MotionDemand demand;
  std::vector<AxisDrive> drives;
  std::vector<AxisAtRest> at_rest;
  ReflectedInertia rotors;
  std::vector<std::size_t> moving;    // joints whose range leaves them any way to go
  std::vector<std::vector<std::size_t>> shares;  // which of them accelerate the tool, each a choice of its own: all; all but the track
  bool all_freedoms = false;          // whether they move the tool in all six freedoms
  std::size_t translations = 0;       // else in how many directions they move the tool point
  bool asks_tool = false, asks_joints = false, asks_speed = false;
  std::vector<double> patterns;       // joint speeds, patterns × joint_count: every choice of signs but for that of the whole
  std::vector<TorqueInterval> within; // 2 × patterns × joint_count: axis torques at each pattern and its reverse
  MovingPayload too_fast;             // moves_itself: no part forbids the speeds
};

/// `unit_load`: a load of 1 kg in the tool frame, its inertia tensor that of a load's shape by its mass (squares of radii of
/// gyration, m²); zero for a load that is small.
MovingSetup prepare_moving(std::shared_ptr<const Model> model, const Inertia& unit_load, const MotionDemand& demand);

/// The largest mass of one posture, told by its joint frames in the world. All torques are linear in the mass m:
///   tau = (M0 + m M1) q̈ + h0 + m h1 + g0 + m g1, per axis Cᵀ tau.
/// (a) Tool acceleration a in any direction, from rest: q̈ = X a, so that row k of a limit's torque moves by ‖r0 + m r1‖ |a| at worst, with
///     r = row k of (Cᵀ M X + reflected inertia · C⁻¹ X), and m is the root of a quadratic; with turn acceleration the root of a
///     convex sum of two such norms. X is the Jacobian's inverse; with more joints than a pose needs that of least kinetic energy,
///     X = M0⁻¹ Jᵀ (J M0⁻¹ Jᵀ)⁻¹ (M0 with rotors, without load), or, of an arm that can do without its track, that with the track
///     standing, whichever carries more; with fewer the tool point accelerates as asked, in the directions
///     that the arm has, and its attitude turns as little as can be. Where a posture takes away one of the arm's
///     freedoms the mass is 0 and the limit `singular`. Joint accelerations beyond the joint's own limit make it 0 as well.
/// (b) Joint accelerations ± in all combinations, from rest: row sums Σ |M0 + m M1 + reflected|_kj a_j, convex, straight pieces.
/// (c) Joint speeds ± in all combinations, 2^joints, each one enumerated: Coriolis and centrifugal torques, friction by direction, efficiency by the
///     direction of power, motor torque at that speed. With joint accelerations besides: the row sums of (b) on top; exact
///     without coupling, with it never too favourable, since an axis' torque and acceleration are taken at their worst each.
/// Peak limits count. What is held at rest always counts too. The search may end, with any mass not above `enough`, once it is sure of that.
MovingPayload moving_payload(const MovingSetup& setup, const Pose* frames, double enough = -1);

/// What a part of an axis is called: "stated", the motor's or the stage's name, "" for none.
std::string part_name(const Model& model, std::size_t axis, std::int8_t part);

/// For a batch, rows × joint_count.
void moving_payloads(const MovingSetup& setup, std::span<const double> q, std::span<MovingPayload> out);

/// Greatest axis speed, as a share of the joint speeds asked, that motors and stages stand; 1 if all of it. And whose it is.
struct SpeedShare {
  double share;
  std::int32_t axis;
  std::int8_t part;
};
SpeedShare greatest_speed_share(const MovingSetup& setup);

}  // namespace armwright
