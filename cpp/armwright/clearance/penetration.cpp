#include <array>
#include <cmath>
#include <limits>

#include "armwright/clearance/convex.hpp"
#include "armwright/clearance/polytope.hpp"
#include "armwright/clearance/triangles.hpp"

namespace armwright {

namespace {

constexpr std::size_t most_corners = 400;

}  // namespace

Proven penetration(const Core& a, const Core& b, const Pose& X_AB) {
  Proven best{{std::numeric_limits<double>::infinity(), {0, 0, 0}, {0, 0, 0}}, std::numeric_limits<double>::infinity()};
  std::array<Corner, most_corners> corners;
  std::array<Face, 2 * most_corners> faces;
  std::array<int, 2 * most_corners> free, seen;
  std::array<Rim, 2 * most_corners> rim;
  Polytope polytope({corners, faces, free, seen, rim});
  const auto farthest_along = [&](const Vec3& way) { return farthest(a, b, X_AB, way); };
  if (!polytope.begin(farthest_along)) return best;
  double depth = std::numeric_limits<double>::infinity();
  while (!polytope.full()) {
    const int lowest = polytope.lowest_face();
    const Face face = polytope.face(lowest);
    const Corner next = farthest_along(face.normal);
    const double reach = dot(next.w, face.normal);
    if (reach < 0) return {{-reach, next.a, next.b}, std::numeric_limits<double>::infinity()};  // apart
    if (reach < depth) {
      depth = reach;
      // The origin's foot on the face, shared out among its corners, gives a point of each core.
      const Corner &p = polytope.corner(face.corner[0]), &q = polytope.corner(face.corner[1]), &r = polytope.corner(face.corner[2]);
      const Vec3 w = nearest_on_triangle(p.w, q.w, r.w);
      const Vec3 on_a = weighted(w, p.a, q.a, r.a);
      best.separation = {-depth, on_a, on_a - depth * face.normal};
    }
    best.gap = depth - face.plane;
    if (best.gap <= 1e-10 * polytope.size() || reach - face.plane <= 1e-10 * polytope.size()) break;
    if (!polytope.grow(lowest, next)) break;
  }
  return best;
}

}  // namespace armwright
