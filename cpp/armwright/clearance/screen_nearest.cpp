#include <limits>

#include "armwright/clearance/screen.hpp"

namespace armwright {

namespace {

constexpr double apart_square = 1e-20;  // m²; cores nearer than its root have no sure direction between them

template <class T>
struct Nearest : Pack<T> {
  using Pack<T>::scene, Pack<T>::work, Pack<T>::slack;
  T best, cutoff;
  T ceiling = T(std::numeric_limits<double>::infinity());  // no less than the least distance: of pairs that the first stage cannot tell

  ARMWRIGHT_INLINE Nearest(const Scene& s, ClearanceWorkspace& w, double most) : Pack<T>(s, w), best(most), cutoff(most) {}

  ARMWRIGHT_INLINE double kept() const { return taken_off(scene, 0); }

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

  // First the distances of all pairs, then those that are as near as the least: most are passed by before they are noted.
  ARMWRIGHT_INLINE void arm() {
    const T far(std::numeric_limits<double>::infinity());
    for (std::size_t p = 0; p < scene.arm_pairs.size(); ++p) {
      const SolidPair& pair = scene.arm_pairs[p];
      const auto i = static_cast<std::size_t>(pair.a), j = static_cast<std::size_t>(pair.b);
      const T most = best + slack, balls = most + T(scene.segment_ball[i] + scene.segment_ball[j] + kept());
      T told = far;
      if (any((balls > T(0.0)) & (this->between_centres(pair) < balls * balls))) {
        const T off(scene.segment_radius[i] + scene.segment_radius[j] + kept());
        const T square = this->between(pair), room = most + off;
        const auto hit = (room > T(0.0)) & (square < room * room);
        if (any(hit)) told = select(hit, square_root(square) - off, far);
        if (scene.arm_pairing[p] == Pairing::round) best = minimum(told, best);
      }
      store_run(told, &work.arm_told[p * widest_pack]);
    }
    for (std::size_t p = 0; p < scene.arm_pairs.size(); ++p) {
      const T told = load_run<T>(&work.arm_told[p * widest_pack]);
      const auto hit = told <= best + slack;
      if (any(hit)) note_of_arm(hit, told, p);
    }
  }

  template <class M>
  ARMWRIGHT_INLINE void note_of_arm(const M& hit, const T& told, std::size_t p) {
    const SolidPair& pair = scene.arm_pairs[p];
    if (scene.arm_pairing[p] != Pairing::round) return this->note(hit & (told < T(std::numeric_limits<double>::infinity())), told, pair, Settling::plain);
    const double off = scene.segment_radius[static_cast<std::size_t>(pair.a)] + scene.segment_radius[static_cast<std::size_t>(pair.b)] + kept();
    const auto apart = told > T(1e-10 - off), real = told < T(std::numeric_limits<double>::infinity());
    this->note(hit & apart & real, told, pair, Settling::segments);
    if (any(hit & !apart)) this->note(hit & !apart, told, pair, Settling::plain);
  }

  ARMWRIGHT_INLINE void planes() {
    for (const SolidPair& pair : scene.plane_pairs) {
      const auto i = static_cast<std::size_t>(pair.a);
      const T told = this->above(pair) - T(scene.segment_radius[i] + taken_off(scene, scene.solids[static_cast<std::size_t>(pair.b)].clearance));
      const auto hit = told < best + slack;
      if (!any(hit)) continue;
      if (is_round(scene.solids[i].shape.kind)) best = select(hit, minimum(best, told), best);
      this->note(hit, told, pair, Settling::plain);
    }
  }

  // Calls each(j) for the boxes of the lowest branch that the first lane's segment i is about the nearest to.
  template <class Each>
  ARMWRIGHT_INLINE void about_nearest(std::size_t i, const Each& each) const {
    if (scene.tree.branches.empty()) return;  // few: all are looked at anyhow
    const StillBall* branches = scene.tree.branches.data();
    const double* from = &work.segments[i * 6 * widest_pack];
    const Vec3 centre{from[0], from[widest_pack], from[2 * widest_pack]};
    const auto apart = [&](std::int32_t n) ARMWRIGHT_INLINE_LAMBDA { return branches[n].offset + dot(branches[n].minus_twice_centre, centre); };
    std::int32_t at = 0;
    while (branches[at].which == none_below) {
      const std::int32_t first = at + 1, second = branches[first].next;
      at = apart(first) <= apart(second) ? first : second;
    }
    for (std::int32_t k = branches[at].which; k < scene.tree.end(branches[at].which); ++k) each(static_cast<std::size_t>(scene.tree.balls[static_cast<std::size_t>(k)].which));
  }

  // A first upper bound where the arm's own pairs give none: in each lane the distance of the pair whose balls are about the
  // nearest, as told by (distance between the centres)² - (sum of the radii)².
  ARMWRIGHT_INLINE void guess() {
    if (scene.tree.true_balls == 0) return;
    T least(std::numeric_limits<double>::infinity()), which(-1.0);
    const auto offer = [&](std::size_t i, std::size_t j, const Vector3<T>& centre) ARMWRIGHT_INLINE_LAMBDA {
      const std::size_t at = i * scene.bounded + j;
      if (scene.still_pairs[at] != Pairing::round) return;
      const StillBox& box = scene.still[j];
      const Vector3<T> way = centre - spread<T>(box.centre);
      const double radii = scene.segment_ball[i] + box.radius;
      const T here = dot(way, way) - T(radii * radii);
      const auto nearer = here < least;
      least = select(nearer, here, least);
      which = select(nearer, T(static_cast<double>(at)), which);
    };
    about_nearest(0, [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA {
      for (std::size_t i = 0; i < scene.moving; ++i) offer(i, j, this->segment(i).centre);
    });
    for (std::size_t i = 0; i < scene.moving; ++i) {
      if (!is_round(scene.solids[i].shape.kind)) continue;
      const Vector3<T> centre = this->segment(i).centre;
      T room, most;
      const auto narrow = [&]() ARMWRIGHT_INLINE_LAMBDA {  // what is not nearer than `room` from the centre is not told nearer than `least`
        const double ball = scene.segment_ball[i];
        room = square_root(maximum(least + T(ball * ball), T(0.0)));
        most = this->ball_bound(centre, room);
      };
      narrow();
      this->walk(i, true, [&](const StillBall& ball) ARMWRIGHT_INLINE_LAMBDA { return any(this->template ball_test<false>(ball, centre, room) < most); },
                 [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA { offer(i, j, centre), narrow(); });
    }
    for (std::size_t k = 0; k < width_of<T>; ++k)
      if (lane(which, k) < 0) return;
    double number[width_of<T> * 22];
    for (std::size_t k = 0; k < width_of<T>; ++k) {
      const auto at = static_cast<std::size_t>(lane(which, k)), i = at / scene.bounded;
      const StillBox& box = scene.still[at % scene.bounded];
      double* to = number + k * 22;
      for (std::size_t n = 0; n < 6; ++n) *to++ = work.segments[(i * 6 + n) * widest_pack + k];
      for (const Vec3& v : {box.centre, box.axes.x, box.axes.y, box.axes.z, box.half}) *to++ = v.x, *to++ = v.y, *to++ = v.z;
      *to = scene.segment_radius[i] + taken_off(scene, box.kept);
    }
    const auto three = [&](std::size_t n) ARMWRIGHT_INLINE_LAMBDA {
      return Vector3<T>{load_rows<T>(number, 22, n), load_rows<T>(number, 22, n + 1), load_rows<T>(number, 22, n + 2)};
    };
    const Segment<T> local = seen_from(three(6), Rotation3<T>{three(9), three(12), three(15)}, {three(0), three(3)});
    best = minimum(square_root(core_square(three(18), local)) - load_rows<T>(number, 22, 21), best);
  }

  // Wherever two solids are in their balls, no more lies between them than from far end to far end. It leaves aside what the
  // first stage cannot tell the distance of; what is told of the nearest is not touched.
  ARMWRIGHT_INLINE void raise_ceiling() {
    ceiling = best;
    const auto offer = [&](std::size_t i, std::size_t j, const Vector3<T>& centre) ARMWRIGHT_INLINE_LAMBDA {
      if (scene.still_pairs[i * scene.bounded + j] == Pairing::left_out) return;
      const StillBox& box = scene.still[j];
      ceiling = minimum(ceiling, norm(centre - spread<T>(box.centre)) + T(box.radius + scene.segment_ball[i] - taken_off(scene, box.kept)));
    };
    about_nearest(0, [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA {
      for (std::size_t i = 0; i < scene.moving; ++i) offer(i, j, this->segment(i).centre);
    });
    for (std::size_t i = 0; i < scene.moving; ++i) {
      const Vector3<T> centre = this->segment(i).centre;
      T room, most;
      const auto narrow = [&]() ARMWRIGHT_INLINE_LAMBDA {
        room = maximum(ceiling + T(kept() - scene.segment_ball[i]), T(0.0));
        most = this->ball_bound(centre, room);
      };
      narrow();
      this->walk(i, false, [&](const StillBall& ball) ARMWRIGHT_INLINE_LAMBDA { return any(this->template ball_test<true>(ball, centre, room) < most); },
                 [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA { offer(i, j, centre), narrow(); });
    }
  }

  ARMWRIGHT_INLINE T enough() const { return minimum(best, ceiling) + slack; }

  ARMWRIGHT_INLINE void boxes() {
    if (scene.bounded == 0) return;
    if (any(best >= cutoff)) {
      guess();
      if (scene.has_bounded) raise_ceiling();
    }
    for (std::size_t i = 0; i < scene.moving; ++i) {
      const Segment<T> s = this->segment(i);
      const T room = enough() + T(scene.segment_ball[i] + kept());
      const auto closer = [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA { look(i, j, s); };
      if (scene.tells_spare) this->template near_boxes<true>(i, s.centre, room, closer);
      else this->template near_boxes<false>(i, s.centre, room, closer);
    }
  }

  ARMWRIGHT_INLINE void look(std::size_t i, std::size_t j, const Segment<T>& s) {
    const StillBox& box = scene.still[j];
    const Segment<T> local = seen_from(spread<T>(box.centre), spread<T>(box.axes), s);
    const double off = scene.segment_radius[i] + taken_off(scene, box.kept);
    const T room = enough() + T(off);
    const Gaps<T> gaps(box, local);
    const auto near = gaps.below(room);
    if (!any(near)) return;
    const Pairing pairing = scene.still_pairs[i * scene.bounded + j];
    const SolidPair pair = still_pair(scene, i, j);
    const T square = core_square(spread<T>(box.half), local);
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

}  // namespace

void screen_nearest(const Scene& scene, ClearanceWorkspace& work, double cutoff) {
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    // The arm's own pairs first: they are few, often the nearest, and what they leave to be looked at is little.
    Nearest<T> search(scene, work, cutoff);
    search.arm();
    search.planes();
    search.boxes();
    store_run(search.best, work.best.data());
    store_run(search.slack, work.slack.data());
  });
}

}  // namespace armwright
