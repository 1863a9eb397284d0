#include <cmath>

#include "armwright/clearance/capsule_boxes.hpp"
#include "armwright/clearance/pack.hpp"
#include "armwright/support/eight.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

constexpr double apart_square = 1e-20;  // m²; cores nearer than its root have no sure direction between them

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

  // Calls look(j) for each box that may be nearer to segment i than `room` from the ball around it.
  template <bool Kept, class Look>
  ARMWRIGHT_INLINE void near_boxes(std::size_t i, const Vector3<T>& centre, const T& room, const Look& look) const {
    const T square = dot(centre, centre);
    const T most = room * room - square + T(1e-14) * (square + room * room + T(scene.extent_square));
    for (std::size_t j = 0; j < scene.bounded; ++j) {
      const StillBox& box = scene.still[j];
      const Vec3& b = box.minus_twice_centre;
      const T least = T(b.x) * centre.x + (T(b.y) * centre.y + (T(b.z) * centre.z + (T(Kept ? box.kept_minus_twice_radius : box.minus_twice_radius) * room + T(Kept ? box.kept_offset : box.offset))));
      if (any(least < most) && scene.still_pairs[i * scene.bounded + j] != Pairing::left_out) look(j);
    }
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

template <class T>
struct Nearest : Pack<T> {
  using Pack<T>::scene, Pack<T>::work, Pack<T>::slack;
  T best;

  ARMWRIGHT_INLINE Nearest(const Scene& s, ClearanceWorkspace& w, double cutoff) : Pack<T>(s, w), best(cutoff) {}

  // Notes what may be the nearest, of solids whose cores' distance is told.
  template <class M>
  ARMWRIGHT_INLINE void take(const M& hit, const T& square, double off, SolidPair pair, Pairing pairing, Settling settling) {
    const T told = square_root(square) - T(off);
    if (pairing != Pairing::round) return this->note(hit, told, pair, Settling::plain);
    best = select(hit, minimum(best, told), best);
    const auto apart = square > T(apart_square);
    this->note(hit & apart, told, pair, settling);
    if (any(hit & !apart)) this->note(hit & !apart, told, pair, Settling::plain);
  }

  ARMWRIGHT_INLINE void arm() {
    const double kept = scene.tells_spare ? scene.spare_margin : 0;
    for (std::size_t p = 0; p < scene.arm_pairs.size(); ++p) {
      const SolidPair& pair = scene.arm_pairs[p];
      const auto i = static_cast<std::size_t>(pair.a), j = static_cast<std::size_t>(pair.b);
      const T most = best + slack, balls = most + T(scene.segment_ball[i] + scene.segment_ball[j] + kept);
      if (!any((balls > T(0.0)) & (this->between_centres(pair) < balls * balls))) continue;
      const double off = scene.segment_radius[i] + scene.segment_radius[j] + kept;
      const T square = this->between(pair), room = most + T(off);
      const auto hit = (room > T(0.0)) & (square < room * room);
      if (any(hit)) take(hit, square, off, pair, scene.arm_pairing[p], Settling::segments);
    }
  }

  ARMWRIGHT_INLINE void planes() {
    for (const SolidPair& pair : scene.plane_pairs) {
      const auto i = static_cast<std::size_t>(pair.a);
      const T told = this->above(pair) - T(scene.segment_radius[i] + (scene.tells_spare ? required(scene, pair, scene.spare_margin) : 0));
      const auto hit = told < best + slack;
      if (!any(hit)) continue;
      if (is_round(scene.solids[i].shape.kind)) best = select(hit, minimum(best, told), best);
      this->note(hit, told, pair, Settling::plain);
    }
  }

  ARMWRIGHT_INLINE void boxes() {
    const bool spare = scene.tells_spare;
    for (std::size_t i = 0; i < scene.moving; ++i) {
      const Segment<T> s = this->segment(i);
      const T room = best + slack + T(scene.segment_ball[i] + (spare ? scene.spare_margin : 0));
      const auto closer = [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA { look(i, j, s); };
      if (spare) this->template near_boxes<true>(i, s.centre, room, closer);
      else this->template near_boxes<false>(i, s.centre, room, closer);
    }
  }

  ARMWRIGHT_INLINE void look(std::size_t i, std::size_t j, const Segment<T>& s) {
    const StillBox& box = scene.still[j];
    const Segment<T> local = seen_from(box.centre, box.axes, s);
    const double off = scene.segment_radius[i] + (scene.tells_spare ? maximum(box.kept, scene.spare_margin) : 0);
    const T room = best + slack + T(off);
    const Gaps<T> gaps(box, local);
    const auto near = gaps.below(room);
    if (!any(near)) return;
    const Pairing pairing = scene.still_pairs[i * scene.bounded + j];
    const SolidPair pair = still_pair(scene, i, j);
    const T square = core_square(box.half, local);
    const auto apart = square > T(apart_square);
    const auto outside = near & apart & (room > T(0.0)) & (square < room * room);
    if (any(outside)) take(outside, square, off, pair, pairing, Settling::box);
    const auto inside = near & !apart;
    if (!any(inside)) return;
    // How deep the plain way has to tell; at least by the radius, if the core is a segment.
    this->note(inside, gaps.most - T(off), pair, Settling::plain);
    if (pairing == Pairing::round) best = select(inside, minimum(best, T(1e-10 - off)), best);
  }
};

template <class T>
struct Blocked : Pack<T> {
  using Pack<T>::scene, Pack<T>::work, Pack<T>::slack;
  using M = decltype(T(0.0) < T(0.0));
  double margin;
  M blocked = T(0.0) < T(0.0);

  ARMWRIGHT_INLINE Blocked(const Scene& s, ClearanceWorkspace& w, double m) : Pack<T>(s, w), margin(m) {}

  // What is nearer than may be by more than rounding blocks; what is nearer by less is for the plain way to tell.
  template <class N>
  ARMWRIGHT_INLINE void take(const N& near, const T& square, double room, SolidPair pair, Pairing pairing) {
    const T least = T(room - just_kept) - slack;
    const auto surely = (least > T(0.0)) & (square < least * least);
    if (pairing == Pairing::round) blocked = blocked | (near & surely);
    const auto open = near & !blocked & (square < T(room * room));
    if (any(open)) this->note(open, square, pair, Settling::plain);
  }

  ARMWRIGHT_INLINE void boxes() {
    for (std::size_t i = 0; i < scene.moving && !all(blocked); ++i) {
      const Segment<T> s = this->segment(i);
      this->template near_boxes<true>(i, s.centre, T(margin + scene.segment_ball[i]), [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA {
        const StillBox& box = scene.still[j];
        const double room = scene.segment_radius[i] + maximum(box.kept, margin);
        const Segment<T> local = seen_from(box.centre, box.axes, s);
        const auto near = Gaps<T>(box, local).below(T(room)) & !blocked;
        if (any(near)) take(near, core_square(box.half, local), room, still_pair(scene, i, j), scene.still_pairs[i * scene.bounded + j]);
      });
    }
  }

  ARMWRIGHT_INLINE void planes() {
    for (const SolidPair& pair : scene.plane_pairs) {
      const auto i = static_cast<std::size_t>(pair.a);
      const double room = scene.segment_radius[i] + required(scene, pair, margin);
      const T height = this->above(pair);
      const auto near = (height < T(room)) & !blocked;
      if (!any(near)) continue;
      if (is_round(scene.solids[i].shape.kind)) blocked = blocked | (height < T(room - just_kept) - slack);
      const auto open = near & !blocked;
      if (any(open)) this->note(open, height, pair, Settling::plain);
    }
  }

  ARMWRIGHT_INLINE void arm() {
    for (std::size_t p = 0; p < scene.arm_pairs.size() && !all(blocked); ++p) {
      const SolidPair& pair = scene.arm_pairs[p];
      const auto i = static_cast<std::size_t>(pair.a), j = static_cast<std::size_t>(pair.b);
      const double balls = scene.segment_ball[i] + scene.segment_ball[j] + margin;
      const auto near = (this->between_centres(pair) < T(balls * balls)) & !blocked;
      if (any(near)) take(near, this->between(pair), scene.segment_radius[i] + scene.segment_radius[j] + margin, pair, scene.arm_pairing[p]);
    }
  }
};

}  // namespace

void screen_nearest(const Scene& scene, ClearanceWorkspace& work, double cutoff) {
  with_lanes([&]<class L>() ARMWRIGHT_INLINE_LAMBDA {
    using T = widened<L>;
    // The arm's own pairs first: they are few, often the nearest, and what they leave to be looked at is little.
    Nearest<T> search(scene, work, cutoff);
    search.arm();
    search.planes();
    search.boxes();
    store(search.best, work.best.data());
    store(search.slack, work.slack.data());
  });
}

void screen_clear(const Scene& scene, ClearanceWorkspace& work, double margin) {
  with_lanes([&]<class L>() ARMWRIGHT_INLINE_LAMBDA {
    using T = widened<L>;
    Blocked<T> search(scene, work, margin);
    search.boxes();
    if (!all(search.blocked)) search.planes();
    search.arm();
    for (std::size_t k = 0; k < work.lanes; ++k) work.blocked[k] = lane(search.blocked, k);
  });
}

}  // namespace armwright
