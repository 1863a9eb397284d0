#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>

#include "armwright/clearance/scene.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// Control points of a piece of a joint path: a polynomial of degree 5 in the share 0 to 1 of the piece (Bernstein form).
inline constexpr std::size_t piece_points = 6;

/// What is kept from the solids all along a joint path, not only at samples of it.
struct ClearanceAlong {
  double least = std::numeric_limits<double>::infinity();   ///< the smallest that was found, m
  double proven = std::numeric_limits<double>::infinity();  ///< nowhere on the path is it smaller, m
  double at = 0;                                            ///< where the smallest was found: piece + share of it
  std::int32_t solid_a = -1, solid_b = -1;                  ///< between which, indices into solid_names()
};

/// Least distance along a path of the joints, with a proven lower bound: proven > least − tolerance, unless `stop` is
/// raised. With a spare_scene() it is what is left beyond the distances to be kept. `control`: pieces × piece_points × joints.
///
/// Between two postures of the path no point of the arm moves farther, as seen from the world or from any link, than
/// L = Σ over the joints of (the way of the joint there and back) × (the farthest distance of the solids beyond it from its axis), so
/// that the least distance d on the way from a to b is no less than (d(a) + d(b) − L) / 2. Pieces are halved until that is
/// enough. The way of a joint is no longer than that of its control points, the distance from its axis no more than
/// at the ends and L / 2.
ClearanceAlong least_along(const Scene& scene, const Model& model, std::span<const double> control, double tolerance, const StopSign& stop);

/// How far a joint's motion carries anything: the farthest distance of the solids beyond each joint from its axis, m; 1 for one that
/// slides. `frames`: joint frames in the world.
std::array<double, max_joints> reach_about(const Scene& scene, const Model& model, const Pose* frames);

}  // namespace armwright
