#pragma once

#include <array>
#include <vector>

#include "armwright/model/model.hpp"

namespace armwright {

using JointRow = std::array<double, max_joints>;

/// A posture of a stop table and how far out the load is in it.
struct StopPosture {
  JointRow q;
  double extension;  ///< of `centre` from the line of the arm's first axis, m
};

/// Postures of the arm at shares of its greatest extension, by this rule: the greatest is the posture in which `centre` (the
/// load's, in the last joint frame) is farthest from the line of axis 1, found by climbing joint by joint from spread
/// starts (sampled, not proven), the track at mid-stroke, joints that make no difference at mid-range. From there the
/// third joint of the arm (the last, of a shorter arm) is bent, by the least turn that there is, until the share is met.
/// Where its range does not go so far, it is bent as far in as it goes.
std::vector<StopPosture> stop_postures(const Model& model, const Vec3& centre, const std::vector<double>& shares);

/// 1 or -1: which way the axis moves to bring `centre` down (along gravity) at `q`; 1 where it does neither.
int downward(const Model& model, const Vec3& centre, const JointRow& q, std::size_t joint);

/// Greatest speed at which a joint of an uncoupled axis is to run, rad/s (m/s): as stated for the joint, or what motor and
/// stages stand. Infinite if nothing tells.
double full_speed(const Model& model, std::size_t joint);

}  // namespace armwright
