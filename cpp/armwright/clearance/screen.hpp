#pragma once

#include "armwright/clearance/capsule_boxes.hpp"
#include "armwright/clearance/pack.hpp"
#include "armwright/support/eight.hpp"
#include "armwright/support/with_lanes.hpp"

// What both questions of the first stage share.

namespace armwright {

// A pack of postures among the solids of a scene.
template <class T>
struct Pack {
  const Scene& scene;
  ClearanceWorkspace& work;
  T far_square = T(0.0);  // of the segments' centres from the world's origin
  T slack = T(0.0);

  ARMWRIGHT_INLINE Pack(const Scene& s, ClearanceWorkspace& w) : scene(s), work(w) {
    work.candidate_count = 0;
    for (std::size_t i = 0; i < scene.moving; ++i) {
      const double* from = &work.frames[static_cast<std::size_t>(scene.frame[i]) * 12 * widest_pack];
      const Rotation3<T> R{load_vector<T>(from), load_vector<T>(from + 3 * widest_pack), load_vector<T>(from + 6 * widest_pack)};
      const Vector3<T> centre = R * spread<T>(scene.segment_centre[i]) + load_vector<T>(from + 9 * widest_pack);
      store_vector(centre, &work.segments[i * 6 * widest_pack]);
      store_vector(R * spread<T>(scene.segment_half[i]), &work.segments[(i * 6 + 3) * widest_pack]);
      far_square = maximum(far_square, dot(centre, centre));
    }
    slack = T(1e-10) + T(1e-14) * (far_square + T(scene.extent_square));
  }

  ARMWRIGHT_INLINE Segment<T> segment(std::size_t i) const {
    const double* from = &work.segments[i * 6 * widest_pack];
    return {load_vector<T>(from), load_vector<T>(from + 3 * widest_pack)};
  }

  template <class M>
  ARMWRIGHT_INLINE void note(const M& which, const T& bound, SolidPair pair, Settling settling) {
    for (std::size_t k = 0; k < work.lanes; ++k)
      if (lane(which, k)) work.candidates[work.candidate_count++] = {lane(bound, k), pair, static_cast<std::int32_t>(k), settling};
  }

  // Squared distance of the cores of two moving solids. The segments' lengths are the same in all postures.
  ARMWRIGHT_INLINE T between(const SolidPair& pair) const {
    const auto i = static_cast<std::size_t>(pair.a), j = static_cast<std::size_t>(pair.b);
    const Segment<T> first = segment(i), second = segment(j);
    const Vector3<T> r = first.centre - second.centre;
    const double a = scene.segment_square[i], e = scene.segment_square[j];
    const T b = dot(first.way, second.way), c = dot(first.way, r), f = dot(second.way, r), one(1.0);
    const T per_a(a > 0 ? 1 / a : 0), per_e(e > 0 ? 1 / e : 0);
    const T square = T(a * e) - b * b;  // see nearest_on_segments()
    const auto crossing = square > T(1e-15 * a * e);
    T s = select(crossing, clamped((b * f - c * T(e)) / select(crossing, square, one), -one, one), T(0.0));
    const T t = clamped((b * s + f) * per_e, -one, one);
    s = clamped((b * t - c) * per_a, -one, one);
    const Vector3<T> v = r + s * first.way - t * second.way;
    return dot(v, v);
  }

  // Squared distance of their segments' centres.
  ARMWRIGHT_INLINE T between_centres(const SolidPair& pair) const {
    const Vector3<T> r = load_vector<T>(&work.segments[static_cast<std::size_t>(pair.a) * 6 * widest_pack]) -
                         load_vector<T>(&work.segments[static_cast<std::size_t>(pair.b) * 6 * widest_pack]);
    return dot(r, r);
  }

  // The lowest point of a moving segment above a half-space, its radius not taken off.
  ARMWRIGHT_INLINE T above(const SolidPair& pair) const {
    const Pose& plane = scene.solids[static_cast<std::size_t>(pair.b)].pose;
    const Segment<T> s = segment(static_cast<std::size_t>(pair.a));
    const Vector3<T> n = spread<T>(plane.rotation.z);
    return dot(s.centre - spread<T>(plane.position), n) - absolute(dot(s.way, n));
  }

  // See StillBall.
  template <bool Kept>
  ARMWRIGHT_INLINE static T ball_test(const StillBall& ball, const Vector3<T>& centre, const T& room) {
    const Vec3& b = ball.minus_twice_centre;
    return T(b.x) * centre.x + (T(b.y) * centre.y + (T(b.z) * centre.z + (T(Kept ? ball.kept_minus_twice_radius : ball.minus_twice_radius) * room + T(Kept ? ball.kept_offset : ball.offset))));
  }

  // What ball_test() is to be less than.
  ARMWRIGHT_INLINE T ball_bound(const Vector3<T>& centre, const T& room) const {
    const T square = dot(centre, centre);
    return room * room - square + T(1e-14) * (square + room * room + T(scene.extent_square));
  }

  // Calls look(j) for each box for whose ball, and the balls of the branches that it is below, near() holds: of all, or of true boxes alone.
  template <class Near, class Look>
  ARMWRIGHT_INLINE void walk(std::size_t i, bool true_alone, const Near& near, const Look& look) const {
    const StillTree& tree = scene.tree;
    const Pairing* pairs = &scene.still_pairs[i * scene.bounded];
    const StillBall *branch = tree.branches.data(), *end = branch + (true_alone ? static_cast<std::size_t>(tree.true_branches) : tree.branches.size());
    const bool few = tree.branches.empty();
    const StillBall *ball = tree.balls.data(), *last = ball + (true_alone ? static_cast<std::size_t>(tree.true_balls) : tree.balls.size());
    do {
      if (!few) {
        if (branch == end) return;
        const StillBall& here = *branch;
        if (!near(here)) {
          branch = tree.branches.data() + here.next;
          continue;
        }
        ++branch;
        if (here.which == none_below) continue;
        ball = tree.balls.data() + here.which, last = tree.balls.data() + tree.end(here.which);
      }
      for (; ball < last; ++ball)
        if (near(*ball) && pairs[ball->which] != Pairing::left_out) look(static_cast<std::size_t>(ball->which));
    } while (!few);
  }

  // Calls look(j) for each box that may be nearer to segment i than `room` from the ball around it.
  template <bool Kept, class Look>
  ARMWRIGHT_INLINE void near_boxes(std::size_t i, const Vector3<T>& centre, const T& room, const Look& look) const {
    const T most = ball_bound(centre, room);
    walk(i, false, [&](const StillBall& ball) ARMWRIGHT_INLINE_LAMBDA { return any(ball_test<Kept>(ball, centre, room) < most); }, look);
  }
};

// The gaps along a box's three axes: the widest of them, and where one is open, the square of what they come to. The one
// is no less than minus the least way out, the other's root no more than the distance.
template <class T>
struct Gaps {
  T most, square;
  ARMWRIGHT_INLINE Gaps(const StillBox& box, const Segment<T>& s) {
    const T zero(0.0);
    const T x = absolute(s.centre.x) - absolute(s.way.x) - T(box.half.x);
    const T y = absolute(s.centre.y) - absolute(s.way.y) - T(box.half.y);
    const T z = absolute(s.centre.z) - absolute(s.way.z) - T(box.half.z);
    const T px = maximum(x, zero), py = maximum(y, zero), pz = maximum(z, zero);
    most = maximum(x, maximum(y, z));
    square = px * px + py * py + pz * pz;
  }
  ARMWRIGHT_INLINE auto below(const T& room) const { return (most < room) & ((most <= T(0.0)) | (square < room * room)); }
};

ARMWRIGHT_INLINE SolidPair still_pair(const Scene& scene, std::size_t i, std::size_t j) { return {static_cast<std::int32_t>(i), static_cast<std::int32_t>(scene.moving + j)}; }

}  // namespace armwright
