#include <cmath>
#include <limits>

#include "armwright/clearance/scene_data.hpp"
#include "armwright/clearance/segments.hpp"
#include "armwright/kinematics/chain.hpp"

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// The moving solids' segments, in the world.
ARMWRIGHT_INLINE void place(const Scene& scene, const Pose* frames, ClearanceWorkspace& work) {
  for (std::size_t i = 0; i < scene.moving; ++i) {
    const Pose& frame = frames[scene.frame[i]];
    const Vec3 centre = frame * scene.segment_centre[i], way = frame.rotation * scene.segment_half[i];
    work.x[i] = centre.x, work.y[i] = centre.y, work.z[i] = centre.z;
    work.way_x[i] = way.x, work.way_y[i] = way.y, work.way_z[i] = way.z;
  }
}

struct LocalSegment {
  Vector3<Lanes> centre, way;
};

// A moving segment seen from each of four boxes.
ARMWRIGHT_INLINE LocalSegment seen_from(const StillGroup& group, const ClearanceWorkspace& work, std::size_t i) {
  const Vector3<Lanes> centre{Lanes(work.x[i]), Lanes(work.y[i]), Lanes(work.z[i])};
  const Vector3<Lanes> way{Lanes(work.way_x[i]), Lanes(work.way_y[i]), Lanes(work.way_z[i])};
  return {transpose_times(group.axes, centre - group.centre), transpose_times(group.axes, way)};
}

// Squared distance between the centres.
ARMWRIGHT_INLINE Lanes square_between(const StillGroup& group, const ClearanceWorkspace& work, std::size_t i) {
  const Vector3<Lanes> v = Vector3<Lanes>{Lanes(work.x[i]), Lanes(work.y[i]), Lanes(work.z[i])} - group.centre;
  return dot(v, v);
}

// The gaps along a box's three axes: the widest of them, and where one is open, the square of what they come to.
struct Gaps {
  Lanes most, square;
};

ARMWRIGHT_INLINE Gaps gaps_between(const StillGroup& group, const LocalSegment& s) {
  const Lanes zero(0.0);
  const Lanes x = absolute(s.centre.x) - absolute(s.way.x) - group.half.x;
  const Lanes y = absolute(s.centre.y) - absolute(s.way.y) - group.half.y;
  const Lanes z = absolute(s.centre.z) - absolute(s.way.z) - group.half.z;
  const Lanes px = maximum(x, zero), py = maximum(y, zero), pz = maximum(z, zero);
  return {maximum(x, maximum(y, z)), px * px + py * py + pz * pz};
}

// No less than minus the least way out, and no more than the signed distance.
ARMWRIGHT_INLINE Lanes gap_bound(const Gaps& gaps) {
  return select(gaps.most > Lanes(0.0), square_root(gaps.square), gaps.most);
}

ARMWRIGHT_INLINE Lanes true_distance(const StillGroup& group, const LocalSegment& s) {
  const Vector3<Lanes> out = excess(s.centre + nearest_to_box(s.centre, s.way, group.half) * s.way, group.half);
  return square_root(dot(out, out));
}

ARMWRIGHT_INLINE Vector3<Lanes> gather(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& z, const std::int32_t* index, std::size_t step) {
  Vector3<Lanes> v;
  for (std::size_t k = 0; k < Lanes::width; ++k) {
    const auto i = static_cast<std::size_t>(index[k * step]);
    v.x.set(k, x[i]), v.y.set(k, y[i]), v.z.set(k, z[i]);
  }
  return v;
}

// Least distances of four pairs of moving segments, radii taken off; `core` is without.
ARMWRIGHT_INLINE Lanes arm_distance(const Scene& scene, const ClearanceWorkspace& work, std::size_t four, Lanes& core) {
  const SolidPair* pairs = &scene.arm_pairs[4 * four];
  const Vector3<Lanes> c1 = gather(work.x, work.y, work.z, &pairs->a, 2), d1 = gather(work.way_x, work.way_y, work.way_z, &pairs->a, 2);
  const Vector3<Lanes> c2 = gather(work.x, work.y, work.z, &pairs->b, 2), d2 = gather(work.way_x, work.way_y, work.way_z, &pairs->b, 2);
  Lanes radii, s, t;
  for (std::size_t k = 0; k < Lanes::width; ++k)
    radii.set(k, scene.segment_radius[static_cast<std::size_t>(pairs[k].a)] + scene.segment_radius[static_cast<std::size_t>(pairs[k].b)]);
  nearest_on_segments(c1, d1, c2, d2, s, t);
  const Vector3<Lanes> v = (c1 + s * d1) - (c2 + t * d2);
  core = square_root(dot(v, v));
  return core - radii + scene.arm_left_out[four];
}

ARMWRIGHT_INLINE void add(ClearanceWorkspace& work, double bound, SolidPair pair) { work.candidates[work.candidate_count++] = {bound, pair}; }

// The lowest point of a moving segment above a half-space.
ARMWRIGHT_INLINE double plane_bound(const Scene& scene, const ClearanceWorkspace& work, const SolidPair& pair) {
  const auto i = static_cast<std::size_t>(pair.a);
  const Pose& plane = scene.solids[static_cast<std::size_t>(pair.b)].pose;
  const Vec3 n = plane.rotation.z, c{work.x[i], work.y[i], work.z[i]}, way{work.way_x[i], work.way_y[i], work.way_z[i]};
  return dot(c - plane.position, n) - std::fabs(dot(way, n)) - scene.segment_radius[i];
}

ARMWRIGHT_INLINE SolidPair still_pair(const Scene& scene, std::size_t i, std::size_t group, std::size_t k) {
  return {static_cast<std::int32_t>(i), static_cast<std::int32_t>(scene.moving + 4 * group + k)};
}

ARMWRIGHT_INLINE bool is_plain_capsule(const Scene& scene, std::int32_t i) {
  const ShapeKind kind = scene.solids[static_cast<std::size_t>(i)].shape.kind;
  return kind == ShapeKind::capsule || kind == ShapeKind::sphere;
}

struct Search {
  const Scene& scene;
  ClearanceWorkspace& work;
  Screening found;

  ARMWRIGHT_INLINE void take(double distance, SolidPair pair) {
    if (distance < found.best) found = {distance, pair};
  }
  // Puts closer bounds in place of four pairs' own: first the gaps along the box's axes, then the exact distances.
  ARMWRIGHT_INLINE void look_closer(std::size_t i, std::size_t g) {
    const std::size_t at = i * scene.groups.size() + g;
    const LocalSegment s = seen_from(scene.groups[g], work, i);
    work.bound[at] = gap_bound(gaps_between(scene.groups[g], s)) - Lanes(scene.segment_radius[i]) + scene.left_out[at];
    if (!any(work.bound[at] < Lanes(found.best))) return;
    const Lanes core = true_distance(scene.groups[g], s);
    const Lanes distance = core - Lanes(scene.segment_radius[i]) + scene.left_out[at];
    const Mask apart = core > Lanes(0.0);
    work.bound[at] = select(apart, distance, work.bound[at]);
    const Mask usable = apart & scene.exact[at] & (distance < Lanes(found.best));
    if (!any(usable)) return;
    for (std::size_t k = 0; k < Lanes::width; ++k)
      if (lane(usable, k)) take(distance[k], still_pair(scene, i, g, k));
  }
};

}  // namespace

ARMWRIGHT_BATCH Screening screen(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double cutoff) {
  place(scene, frames, work);
  work.candidate_count = 0;
  Search search{scene, work, {cutoff, {-1, -1}}};
  const std::size_t group_count = scene.groups.size();

  Lanes lowest(infinity);
  std::size_t lowest_i = 0, lowest_g = 0;
  for (std::size_t i = 0; i < scene.moving; ++i) {
    for (std::size_t g = 0; g < group_count; ++g) {
      const std::size_t at = i * group_count + g;
      const Lanes bound = square_root(square_between(scene.groups[g], work, i)) - scene.groups[g].ball - Lanes(scene.segment_ball[i]) + scene.left_out[at];
      work.bound[at] = bound;
      if (any(bound < lowest)) {
        double least = bound[0];
        for (std::size_t k = 1; k < Lanes::width; ++k) least = minimum(least, bound[k]);
        lowest = Lanes(least);
        lowest_i = i, lowest_g = g;
      }
    }
  }

  if (group_count > 0 && lowest[0] < search.found.best) search.look_closer(lowest_i, lowest_g);
  const std::size_t fours = scene.arm_pairs.size() / 4;
  for (std::size_t four = 0; four < fours; ++four) {
    Lanes core;
    const Lanes distance = arm_distance(scene, work, four, core);
    const Mask nearer = distance < Lanes(search.found.best);
    if (!any(nearer)) continue;
    for (std::size_t k = 0; k < Lanes::width; ++k) {
      if (!lane(nearer, k)) continue;
      const SolidPair pair = scene.arm_pairs[4 * four + k];
      if (lane(scene.arm_exact[four], k)) search.take(distance[k], pair);
      else add(work, distance[k], pair);
    }
  }
  for (std::size_t i = 0; i < scene.moving; ++i) {
    for (std::size_t g = 0; g < group_count; ++g) {
      const std::size_t at = i * group_count + g;
      if (any(work.bound[at] < Lanes(search.found.best))) search.look_closer(i, g);
      const Mask left = work.bound[at] < Lanes(search.found.best);
      if (!any(left)) continue;
      for (std::size_t k = 0; k < Lanes::width; ++k)
        if (lane(left, k)) add(work, work.bound[at][k], still_pair(scene, i, g, k));
    }
  }
  for (const SolidPair& pair : scene.plane_pairs) {
    const double bound = plane_bound(scene, work, pair) - (scene.tells_spare ? required(scene, pair, scene.spare_margin) : 0);
    if (!(bound < search.found.best)) continue;
    if (is_plain_capsule(scene, pair.a)) search.take(bound, pair);
    else add(work, bound, pair);
  }
  return search.found;
}

ARMWRIGHT_BATCH bool screen_clear(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double margin) {
  place(scene, frames, work);
  work.candidate_count = 0;
  const std::size_t group_count = scene.groups.size();
  for (std::size_t i = 0; i < scene.moving; ++i) {
    const Lanes radius(scene.segment_radius[i]);
    for (std::size_t g = 0; g < group_count; ++g) {
      const std::size_t at = i * group_count + g;
      const Lanes required = maximum(scene.kept[g], Lanes(margin));
      // Most pairs are told apart by the balls around them.
      const Lanes sum = required + scene.groups[g].ball + Lanes(scene.segment_ball[i]) - scene.left_out[at];
      if (!any((sum > Lanes(0.0)) & (square_between(scene.groups[g], work, i) < sum * sum))) continue;
      const LocalSegment s = seen_from(scene.groups[g], work, i);
      const Gaps gaps = gaps_between(scene.groups[g], s);
      // The bound against what is required, without its root.
      const Lanes room = required + radius - scene.left_out[at];
      const Mask near = (gaps.most < room) & ((gaps.most <= Lanes(0.0)) | (gaps.square < room * room));
      if (!any(near)) continue;
      const Lanes core = true_distance(scene.groups[g], s);
      const Lanes distance = core - radius + scene.left_out[at];
      const Mask apart = core > Lanes(0.0);
      const Mask open = near & ((distance < required) | !apart);
      if (!any(open)) continue;
      // A capsule whose core enters a box is no nearer than minus its radius, so it is settled too.
      if (any(scene.exact[at] & open & (distance < required - Lanes(just_kept)))) return false;
      for (std::size_t k = 0; k < Lanes::width; ++k)
        if (lane(open, k)) add(work, lane(apart, k) ? distance[k] : gaps.most[k] - scene.segment_radius[i], still_pair(scene, i, g, k));
    }
  }
  for (const SolidPair& pair : scene.plane_pairs) {
    const double bound = plane_bound(scene, work, pair);
    const double required = maximum(scene.solids[static_cast<std::size_t>(pair.b)].clearance, margin);
    if (!(bound < required)) continue;
    if (is_plain_capsule(scene, pair.a) && bound < required - just_kept) return false;
    add(work, bound, pair);
  }
  const std::size_t fours = scene.arm_pairs.size() / 4;
  for (std::size_t four = 0; four < fours; ++four) {
    Lanes core;
    const Lanes distance = arm_distance(scene, work, four, core);
    const Mask open = distance < Lanes(margin);
    if (!any(open)) continue;
    if (any(scene.arm_exact[four] & open & (distance < Lanes(margin - just_kept)))) return false;
    for (std::size_t k = 0; k < Lanes::width; ++k)
      if (lane(open, k)) add(work, distance[k], scene.arm_pairs[4 * four + k]);
  }
  return true;
}

}  // namespace armwright
