#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>

#include "armwright/clearance/corner_map.hpp"
#include "armwright/clearance/shape.hpp"

namespace armwright {

/// A convex core for the general method: a point, segment, box (by `half`), cylinder along z or the hull of points.
struct Core {
  enum class Kind : std::uint8_t { box, cylinder, points } kind = Kind::box;
  Vec3 half{0, 0, 0};
  const Vec3* points = nullptr;
  std::size_t count = 0;
  const CornerMap* map = nullptr;  ///< of many points
  Vec3 box_centre{0, 0, 0}, box_half{0, 0, 0};  ///< a box around it, in its own frame
};

/// The corner or point of a core farthest along a direction, both in the core's frame.
inline Vec3 support(const Core& core, const Vec3& way) {
  if (core.kind == Core::Kind::box)
    return {std::copysign(core.half.x, way.x), std::copysign(core.half.y, way.y), std::copysign(core.half.z, way.z)};
  if (core.kind == Core::Kind::cylinder) {
    const double across = std::sqrt(way.x * way.x + way.y * way.y);
    const double scale = across > 0 ? core.half.x / across : 0;
    return {way.x * scale, way.y * scale, std::copysign(core.half.z, way.z)};
  }
  if (core.map != nullptr) return core.points[farthest_corner(*core.map, core.points, way)];
  std::size_t best = 0;
  double most = dot(core.points[0], way);
  for (std::size_t i = 1; i < core.count; ++i) {
    const double here = dot(core.points[i], way);
    if (here > most) most = here, best = i;
  }
  return core.points[best];
}

/// Bullet's answer for two convex cores, with no margin. X_AB: the second core's frame in the first's; the points are
/// in the first's frame. `found` is false when its search gave up or the cores overlap.
struct BulletAnswer {
  bool found = false;
  Separation separation{};
};
BulletAnswer bullet_distance(const Core& a, const Core& b, const Pose& X_AB);

}  // namespace armwright
