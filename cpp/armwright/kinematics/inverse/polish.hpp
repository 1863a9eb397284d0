#pragma once

#include "armwright/kinematics/inverse/six_chain.hpp"

namespace armwright {

/// An answer that misses its pose by more is left out. Half of the 1e-9 that is promised, so that whoever measures
/// the misfit in another way finds it kept.
inline constexpr double accepted_position = 5e-10;  ///< m
inline constexpr double accepted_rotation = 5e-10;  ///< rad

/// By how much an end pose misses its target.
struct PoseError {
  double position;  ///< m
  double rotation;  ///< rad
};

inline bool accepted(const PoseError& e) { return e.position < accepted_position && e.rotation < accepted_rotation; }

PoseError pose_error(const Pose& reached, const Pose& target);
PoseError pose_error(const SixChain& chain, const Pose& target, const double* q);

/// The pose with its rotation made as square as rounding allows: numbers from files often are not.
Pose nearest_square(Pose target);

/// Newton steps on the exact chain with the geometric Jacobian, damped (Levenberg and Marquardt) where the plain step
/// is too long or makes things worse, as near singular postures. Stops when the error no longer shrinks; q is then
/// the best found, in [-pi, pi]. Returns whether the pose error is accepted.
/// `q` needs to be close already: the nearest answer is meant, not any.
bool polish(const SixChain& chain, const Pose& target, double* q, int most_steps = 30);

}  // namespace armwright
