#pragma once

#include <limits>

#include "armwright/clearance/bullet.hpp"

namespace armwright {

/// Signed distance of two convex cores, at least one of them with volume unless they are apart. X_AB: the second's
/// frame in the first's; the points come in the first's frame.
/// Bullet's search answers first. Its answer is taken only if its own direction proves it: no two points of the cores
/// are nearer along that direction than its two points are. (In about one pair of a thousand it stops too early, by
/// as much as half a metre.) Otherwise, and for all overlaps, the two searches below serve, which carry the same proof.
Separation convex_separation(const Core& a, const Core& b, const Pose& X_AB);

/// The same, but 0 for any overlap: for cores that may both be without volume. Distances above `cutoff` need not be exact:
/// any value of at least `cutoff` may come back for them. `way`: about where the second is to be seen from the first, in the
/// first's frame; the nearer to the truth, the sooner it is done.
Separation convex_gap(const Core& a, const Core& b, const Pose& X_AB, const Vec3& way, double cutoff);

/// A search's answer and how far it may be from the truth, m.
struct Proven {
  Separation separation;
  double gap;
};

/// Least distance of two cores (E. Gilbert, D. Johnson, S. Keerthi, IEEE J. Robotics and Automation 4(2), 1988), the
/// nearest point of each simplex found by comparing all its faces. Distance 0 if they overlap. Begins along `way`, and ends
/// where the distance is proven to be more than `cutoff`: that it is no less than distance - gap always holds.
Proven nearest_points(const Core& a, const Core& b, const Pose& X_AB, const Vec3& way = {1, 0, 0}, double cutoff = std::numeric_limits<double>::infinity());

/// Signed distance by a polytope grown within the set of differences (after G. van den Bergen, Game Developers
/// Conference 2001): negative and as small as can be if they overlap; else some positive number not above the distance.
Proven penetration(const Core& a, const Core& b, const Pose& X_AB);

/// The point of the set of differences a - b that lies farthest along a direction, and the two points it comes from.
struct Corner {
  Vec3 w, a, b;
};
inline Corner farthest(const Core& a, const Core& b, const Pose& X_AB, const Vec3& way) {
  const Vec3 p = support(a, way);
  const Vec3 q = X_AB * support(b, transpose_times(X_AB.rotation, -way));
  return {p - q, p, q};
}

}  // namespace armwright
