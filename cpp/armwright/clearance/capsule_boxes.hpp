#pragma once

#include <span>

#include "armwright/clearance/segments.hpp"

namespace armwright {

template <class T>
struct Segment {
  Vector3<T> centre, way;  ///< half the way from end to end
};

/// A segment seen from a box that has these axes about this centre: one box for all lanes, or one each.
template <class T>
ARMWRIGHT_INLINE Segment<T> seen_from(const Vector3<T>& centre, const Rotation3<T>& axes, const Segment<T>& s) {
  return {transpose_times(axes, s.centre - centre), transpose_times(axes, s.way)};
}

/// Squared distance of a segment from the box [-half, half], 0 if it enters it.
template <class T>
ARMWRIGHT_INLINE T core_square(const Vector3<T>& half, const Segment<T>& s) {
  const Vector3<T> p = s.centre + nearest_to_box(s.centre, s.way, half) * s.way;
  const Vector3<T> out{beyond(p.x, half.x), beyond(p.y, half.y), beyond(p.z, half.z)};
  return dot(out, out);
}

/// Signed distances of capsules from boxes, each from each: what the first stage of a scene asks, for itself alone.
/// `capsules`: 7 numbers each, the ends of the core in the world and the radius, m; both ends in one place make a sphere.
/// `boxes`: 15 numbers each, the centre, the three axes in the world, half the edges. `out`: [capsule][box], m; negative
/// where they overlap, then minus the least way out.
void capsule_box_distances(std::span<const double> capsules, std::span<const double> boxes, std::span<double> out);

}  // namespace armwright
