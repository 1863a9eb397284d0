#pragma once

#include "armwright/dynamics/springs.hpp"

namespace armwright {

/// Torque that a spring takes off one turning joint, when that joint alone lies between its ends, over the joint's angle:
/// with squared length L² = a + b cos(q − q0) it gives s = −(pull/L) · ½ dL²/dq.
struct SpringAtJoint {
  double a = 0, b = 0, q0 = 0;
  double rest = 0, rate = 0;  ///< pull = rest + rate · L
  bool pulls_only = false;
  double longest = 0;
};

/// The joint that alone lies between a spring's ends, or joint_count.
std::size_t only_joint_of(const Model& model, const Spring& spring);

SpringAtJoint spring_at_joint(const Model& model, const Spring& spring, std::size_t joint);

/// What the spring gives at an angle, and its first slope; least and greatest within an interval of angles about it.
struct SpringRange {
  double value, slope, least, greatest;
  double bend;  ///< bound on |second slope| there; infinite where it has a kink
};
SpringRange spring_range(const SpringAtJoint& spring, double angle, double half);

/// Most torque that a spring can put on a joint between its ends, anywhere: strongest pull times longest lever.
double spring_most(const Model& model, const Spring& spring, std::size_t joint);

}  // namespace armwright
