#include "armwright/clearance/screen.hpp"

namespace armwright {

namespace {

template <class T>
struct Blocked : Pack<T> {
  using Pack<T>::scene, Pack<T>::work, Pack<T>::slack;
  using M = decltype(T(0.0) < T(0.0));
  T margin;  // each lane's own
  M blocked = T(0.0) < T(0.0);

  ARMWRIGHT_INLINE Blocked(const Scene& s, ClearanceWorkspace& w) : Pack<T>(s, w), margin(load_run<T>(w.margin.data())) {}

  // What is to be kept, where the solid itself asks for `own`.
  ARMWRIGHT_INLINE T kept(double own) const { return maximum(T(own), margin); }

  // What is nearer than may be by more than rounding blocks; what is nearer by less is for the plain way to tell.
  template <class N>
  ARMWRIGHT_INLINE void take(const N& near, const T& square, const T& room, SolidPair pair, Pairing pairing) {
    const T least = room - T(just_kept) - slack;
    const auto surely = (least > T(0.0)) & (square < least * least);
    if (pairing == Pairing::round) blocked = blocked | (near & surely);
    const auto open = near & !blocked & (square < room * room);
    if (any(open)) this->note(open, square, pair, Settling::plain);
  }

  ARMWRIGHT_INLINE void boxes() {
    for (std::size_t i = 0; i < scene.moving && !all(blocked); ++i) {
      const Segment<T> s = this->segment(i);
      this->template near_boxes<true>(i, s.centre, margin + T(scene.segment_ball[i]), [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA {
        const StillBox& box = scene.still[j];
        const T room = T(scene.segment_radius[i]) + kept(box.kept);
        const Segment<T> local = seen_from(spread<T>(box.centre), spread<T>(box.axes), s);
        const auto near = Gaps<T>(box, local).below(room) & !blocked;
        if (any(near)) take(near, core_square(spread<T>(box.half), local), room, still_pair(scene, i, j), scene.still_pairs[i * scene.bounded + j]);
      });
    }
  }

  ARMWRIGHT_INLINE void planes() {
    for (const SolidPair& pair : scene.plane_pairs) {
      const auto i = static_cast<std::size_t>(pair.a);
      const T room = T(scene.segment_radius[i]) + kept(scene.solids[static_cast<std::size_t>(pair.b)].clearance);
      const T height = this->above(pair);
      const auto near = (height < room) & !blocked;
      if (!any(near)) continue;
      if (is_round(scene.solids[i].shape.kind)) blocked = blocked | (height < room - T(just_kept) - slack);
      const auto open = near & !blocked;
      if (any(open)) this->note(open, height, pair, Settling::plain);
    }
  }

  ARMWRIGHT_INLINE void arm() {
    for (std::size_t p = 0; p < scene.arm_pairs.size() && !all(blocked); ++p) {
      const SolidPair& pair = scene.arm_pairs[p];
      const auto i = static_cast<std::size_t>(pair.a), j = static_cast<std::size_t>(pair.b);
      const T balls = T(scene.segment_ball[i] + scene.segment_ball[j]) + margin;
      const auto near = (this->between_centres(pair) < balls * balls) & !blocked;
      if (any(near)) take(near, this->between(pair), T(scene.segment_radius[i] + scene.segment_radius[j]) + margin, pair, scene.arm_pairing[p]);
    }
  }
};

}  // namespace

void screen_clear(const Scene& scene, ClearanceWorkspace& work) {
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    Blocked<T> search(scene, work);
    search.arm();  // the cheapest to ask, and often what blocks where much room is asked for
    if (!all(search.blocked)) search.planes();
    search.boxes();
    for (std::size_t k = 0; k < work.lanes; ++k) work.blocked[k] = lane(search.blocked, k);
  });
}

}  // namespace armwright
