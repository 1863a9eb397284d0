#pragma once

#include "armwright/clearance/shape.hpp"

namespace armwright {

// Closed forms between cores. Boxes and cylinders stand at the origin along the axes (their own frame); segments are
// told by centre and half the way. Results are signed, points in the same frame: a on the first core, b on the second.

Separation point_box(const Vec3& p, const Vec3& half);
Separation segment_box(const Vec3& centre, const Vec3& way, const Vec3& half);
Separation segment_segment(const Vec3& c1, const Vec3& d1, const Vec3& c2, const Vec3& d2);
/// Two boxes, the second's frame in the first's.
Separation box_box(const Vec3& half_a, const Vec3& half_b, const Pose& X_AB);
/// Cylinder along z: half = (radius, radius, half height).
Separation point_cylinder(const Vec3& p, const Vec3& half);
/// A root of the slope of the distance along the segment, by halving: exact to rounding. `overlap`: the segment
/// touches the cylinder, and how deep is for the general method to tell.
Separation segment_cylinder(const Vec3& centre, const Vec3& way, const Vec3& half, bool& overlap);

/// Two cylinders along z, the first about p, the second about the origin: their set of differences is a cylinder too.
Separation parallel_cylinders(const Vec3& p, const Vec3& half_a, const Vec3& half_b);

}  // namespace armwright
