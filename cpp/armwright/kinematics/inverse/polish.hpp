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

/// Makes a rotation, or four in lanes, as square as rounding allows: numbers from files often are not. Newton steps for the
/// polar decomposition.
template <class T>
ARMWRIGHT_INLINE void make_square(Rotation3<T>& R) {
  for (int step = 0; step < 6; ++step) {
    const T xx = dot(R.x, R.x) - T(1.0), yy = dot(R.y, R.y) - T(1.0), zz = dot(R.z, R.z) - T(1.0);
    const T xy = dot(R.x, R.y), yz = dot(R.y, R.z), zx = dot(R.z, R.x);
    const auto off = xx * xx + yy * yy + zz * zz + xy * xy + yz * yz + zx * zx > T(1e-28);
    if (!any(off)) break;
    const T half = select(off, T(0.5), T(0.0));
    const Rotation3<T> was = R;
    R.x = was.x - half * (xx * was.x + xy * was.y + zx * was.z);
    R.y = was.y - half * (xy * was.x + yy * was.y + yz * was.z);
    R.z = was.z - half * (zx * was.x + yz * was.y + zz * was.z);
  }
}

/// The pose with its rotation made so.
Pose nearest_square(Pose target);

/// Newton steps on the exact chain with the geometric Jacobian, damped (Levenberg and Marquardt) where the plain step
/// is too long or makes things worse, as near singular postures. Stops when the error no longer shrinks; q is then
/// the best found, in [-pi, pi]. Returns whether the pose error is accepted.
/// `q` needs to be close already: the nearest answer is meant, not any.
bool polish(const SixChain& chain, const Pose& target, double* q, int most_steps = 30);

}  // namespace armwright
