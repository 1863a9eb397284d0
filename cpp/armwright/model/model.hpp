#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "armwright/model/arm_spec.hpp"
#include "armwright/model/drive.hpp"

namespace armwright {

inline constexpr std::size_t max_joints = 12;

/// One step of the chain, from joint frame F(i-1) to joint frame F(i):
///   X = Trans(offset) · Rx(alpha) · Rz(theta) · Tz(d)
/// with z along the joint axis. Revolute: theta = q + zero, d = 0. Prismatic: theta = zero, d = q.
/// Any two successive axes can be told so, because the turn of F(i-1) about its own z is free.
struct JointStep {
  Vec3 offset;
  double cos_alpha, sin_alpha;
  double zero;                ///< rad
  double cos_zero, sin_zero;  ///< for prismatic joints
  JointKind kind;
};

/// What the kernels compute on: plain numbers, SI, constant. Joints: the track first if there is one. Made by
/// compile(); nothing in it needs checking again.
struct Model {
  std::size_t joint_count = 0;
  bool has_track = false;
  Pose base = identity_pose;        ///< F(0) in the world: the frame before the first step
  std::array<JointStep, max_joints> step{};
  Pose tool = identity_pose;        ///< tool frame in the last joint frame
  Pose flange = identity_pose;      ///< tool flange in the last joint frame
  std::array<Pose, max_joints> link_frame{};  ///< the described link frame in joint frame F(i)
  std::array<Pose, max_joints> told_frame{};  ///< the frame that link poses are told of, in joint frame F(i)
  std::array<Inertia, max_joints> link{};     ///< in joint frame F(i); the tool counts in the last
  std::array<double, max_joints> lower{}, upper{};
  std::array<double, max_joints> torque_continuous{}, torque_peak{};  ///< of each axis, at rest; see limit_part
  std::array<double, max_joints> stated_continuous{}, stated_peak{};  ///< torques told of the axis itself, besides its drive
  std::array<double, max_joints> speed{}, acceleration{}, jerk{};     ///< greatest allowed of each joint
  std::vector<Drive> drive;         ///< one an axis; empty: no drives described at all
  Coupling coupling;
  std::vector<Spring> springs;
  std::array<std::string, max_joints> continuous_part, peak_part;     ///< what sets torque_continuous and torque_peak: "motor", a stage's name, "stated"
  Vec3 gravity{0, 0, -9.80665};
  Pose mount = identity_pose;       ///< the arm's mount in the world or, with a track, in F(0)
  Inertia base_link;                ///< the arm's foot in the mount's frame; with a track it counts in link[0] as well
  Inertia load;                     ///< in the last joint frame; mass 0 if nothing is carried
  std::vector<std::string> joint_names, link_names;
};

/// The model with its track, if it has one, held at one place.
inline Model held_on_track(const Model& model, double at) {
  Model held = model;
  if (held.has_track) held.lower[0] = held.upper[0] = at;
  return held;
}

/// A batch of joint vectors, row by row.
inline std::size_t rows_of(const Model& model, std::span<const double> q) { return q.size() / model.joint_count; }

}  // namespace armwright
