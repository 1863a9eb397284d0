#include "armwright/clearance/hull.hpp"

#include "armwright/clearance/polytope.hpp"

namespace armwright {

namespace {

// Points looked at before it is given up (a second or two): of a very large cloud most of which are corners.
constexpr std::size_t most_looks = 2'000'000'000;

}  // namespace

std::vector<Vec3> hull_corners(const std::vector<Vec3>& points) {
  const auto farthest = [&](const Vec3& way) {
    std::size_t best = 0;
    double most = dot(points[0], way);
    for (std::size_t i = 1; i < points.size(); ++i) {
      const double here = dot(points[i], way);
      if (here > most) most = here, best = i;
    }
    // Told from one of the points: a solid may stand far from its frame's origin.
    return Corner{points[best] - points[0], points[best], {0, 0, 0}};
  };
  const std::size_t n = points.size();
  std::vector<Corner> corners(n);
  std::vector<Face> faces(2 * n);
  std::vector<int> free(2 * n), seen(2 * n);
  std::vector<Rim> rim(2 * n);
  Polytope polytope({corners, faces, free, seen, rim});
  if (!polytope.begin(farthest)) return points;
  // A face is done when no point is above it. New faces may take the places of old ones, so they are gone through again.
  std::size_t looks = 0;
  for (bool grown = true; grown;) {
    grown = false;
    for (int i = 0; i < polytope.face_count(); ++i) {
      if (!polytope.face(i).alive || polytope.face(i).done) continue;
      const Vec3 normal = polytope.face(i).normal;
      looks += n;
      if (looks > most_looks) return points;
      const Corner top = farthest(normal);
      if (dot(top.w, normal) - polytope.face(i).plane <= polytope.flat()) {
        polytope.finish(i);
        continue;
      }
      if (polytope.full() || !polytope.grow(i, top)) return points;
      grown = true;
    }
  }
  std::vector<bool> used(n, false);
  std::vector<Vec3> kept;
  for (int i = 0; i < polytope.face_count(); ++i) {
    if (!polytope.face(i).alive) continue;
    for (const int c : polytope.face(i).corner) {
      if (!used[static_cast<std::size_t>(c)]) kept.push_back(polytope.corner(c).a);
      used[static_cast<std::size_t>(c)] = true;
    }
  }
  return kept;
}

}  // namespace armwright
