#include "armwright/clearance/capsule_boxes.hpp"

#include <algorithm>

#include "armwright/clearance/primitives.hpp"
#include "armwright/support/eight.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

constexpr std::size_t capsule_size = 7, box_size = 15;

Vec3 three(const double* from) { return {from[0], from[1], from[2]}; }

struct Box {
  Vec3 centre, half;
  Rotation axes;
};
Box box_at(const double* from) { return {three(from), three(from + 12), {three(from + 3), three(from + 6), three(from + 9)}}; }

// Where a core enters its box, how deep.
double depth(const double* capsule, const Box& box) {
  const Vec3 first = three(capsule), second = three(capsule + 3);
  const Segment<double> local = seen_from<double>(box.centre, box.axes, {0.5 * (first + second), 0.5 * (second - first)});
  return (dot(local.way, local.way) > 0 ? segment_box(local.centre, local.way, box.half) : point_box(local.centre, box.half)).distance;
}

}  // namespace

void capsule_box_distances(std::span<const double> capsules, std::span<const double> boxes, std::span<double> out) {
  const std::size_t count = capsules.size() / capsule_size, box_count = boxes.size() / box_size;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    constexpr std::size_t width = width_of<T>;
    for (std::size_t first = 0; first < count; first += width) {
      const std::size_t here = std::min(width, count - first);
      double filled[width * capsule_size];
      for (std::size_t k = 0; k < width; ++k) std::copy_n(&capsules[(first + (k < here ? k : 0)) * capsule_size], capsule_size, filled + k * capsule_size);
      T number[capsule_size];
      for (std::size_t i = 0; i < capsule_size; ++i) number[i] = load_rows<T>(filled, capsule_size, i);
      const Vector3<T> a{number[0], number[1], number[2]}, b{number[3], number[4], number[5]};
      const Segment<T> segment{T(0.5) * (a + b), T(0.5) * (b - a)};
      for (std::size_t j = 0; j < box_count; ++j) {
        const Box box = box_at(&boxes[j * box_size]);
        const T core = square_root(core_square(spread<T>(box.half), seen_from(spread<T>(box.centre), spread<T>(box.axes), segment))), distance = core - number[6];
        double* to = &out[first * box_count + j];
        for (std::size_t k = 0; k < here; ++k) to[k * box_count] = lane(distance, k);
        const auto inside = core <= T(0.0);
        if (!any(inside)) continue;
        for (std::size_t k = 0; k < here; ++k)
          if (lane(inside, k)) to[k * box_count] = depth(filled + k * capsule_size, box) - filled[k * capsule_size + 6];
      }
    }
  });
}

}  // namespace armwright
