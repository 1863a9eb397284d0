#pragma once

#include <cstddef>
#include <vector>

#include "armwright/spatial/pose.hpp"

namespace armwright {

/// `count` directions spread nearly evenly over the sphere, always the same: a Fibonacci lattice (Á. González,
/// "Measurement of Areas on a Sphere Using Fibonacci and Latitude–Longitude Lattices", Math. Geosciences 42, 2010).
std::vector<Vec3> spread_directions(std::size_t count);

/// Directions spread over the cone of half-angle `half_angle` (rad, up to pi) about `axis`: the axis itself, then
/// rings about `step` (rad) apart, the last on the rim.
std::vector<Vec3> cone_directions(const Vec3& axis, double half_angle, double step);

/// Tool attitudes with the tool's z axis along each direction, each at `spins` turns about it, evenly spread.
std::vector<Rotation> attitudes_along(const std::vector<Vec3>& directions, std::size_t spins);

/// Turns spread evenly over the circle, from 0, at most `step` (rad) apart.
std::vector<double> spread_spins(double step);

/// The attitude tilted, by the least turn, so that its z axis lies along `direction`.
Rotation tilted_to(const Rotation& attitude, const Vec3& direction);

}  // namespace armwright
