#pragma once

#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// Geometric Jacobians of the tool point in world axes. `out`: rows × 6 × joint_count; the first three rows linear
/// (m/rad, or 1 for a prismatic joint), the last three angular (1, or 0).
void jacobians(const Model& model, std::span<const double> q, std::span<double> out);

/// Which rows of the Jacobian count.
enum class Motion : std::uint8_t { all, translation, rotation };

/// Yoshikawa's manipulability, the product of the Jacobian's singular values (T. Yoshikawa, "Manipulability of Robotic
/// Mechanisms", Int. J. Robotics Research 4(2), 1985): sqrt(det(J Jᵀ)), or sqrt(det(Jᵀ J)) for arms with fewer
/// joints than rows. `out`: a number a row.
void manipulabilities(const Model& model, std::span<const double> q, Motion motion, std::span<double> out);

/// Least and greatest singular value of the Jacobian with its angular rows multiplied by `length` (m), so that all
/// entries are metres. `out`: rows × 2, least first. The inverse of the condition number is their quotient.
void singular_values(const Model& model, std::span<const double> q, double length, std::span<double> out);

/// Distance to the joint limits: for each row the least over the joints of the distance to the nearer limit as a share
/// of half the range: 1 in mid-range, 0 at a limit, negative beyond. Joints without limits do not count; with
/// none limited the answer is 1.
void limit_margins(const Model& model, std::span<const double> q, std::span<double> out);

}  // namespace armwright
