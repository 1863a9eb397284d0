#pragma once

#include <Eigen/Core>

#include "armwright/kinematics/inverse/six_chain.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

/// Newton-like steps for postures that may be singular and chains with prismatic joints. Lengths, displacements of
/// prismatic joints too, count in units of `size` (m), angles in rad.

using Vector6 = Eigen::Matrix<double, 6, 1>;
using Matrix6 = Eigen::Matrix<double, 6, 6>;

/// Which joints stand still, a bit each.
using HeldJoints = unsigned;

Matrix6 scaled_jacobian(const SixChain& chain, const double* q, double size);

/// From a posture near one that holds the target to one that does, the way of least length (Gauss and Newton with the
/// pseudoinverse). False if it does not get there; q is then of no use.
bool bring_to(const SixChain& chain, double size, const Pose& target, HeldJoints held, std::array<double, 6>& q);

/// Damped steps (Levenberg and Marquardt) from farther away.
bool seek(const SixChain& chain, double size, const Pose& target, HeldJoints held, std::array<double, 6>& q);

inline bool slides(const SixChain& chain, std::size_t joint) { return chain.step[joint].kind == JointKind::prismatic; }

/// Difference of two values of a joint: less whole turns, or in units of size.
inline double between(const SixChain& chain, double size, std::size_t joint, double a, double b) {
  return slides(chain, joint) ? (b - a) / size : wrapped(b - a);
}

/// The largest difference of any joint.
double apart(const SixChain& chain, double size, const std::array<double, 6>& a, const std::array<double, 6>& b);

/// As add_distinct(), with prismatic joints compared in metres.
void add_answer(const SixChain& chain, Solutions& out, Solution s);

}  // namespace armwright
