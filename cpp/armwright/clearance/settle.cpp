#include "armwright/clearance/settle.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/clearance/segments.hpp"
#include "armwright/support/eight.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

// A pack of answers.
struct Found {
  double distance[widest_pack], a[3][widest_pack], b[3][widest_pack];
};

template <class T>
ARMWRIGHT_INLINE Vector3<T> three(const Waiting& waiting, std::size_t first, std::size_t k) {
  return {load_run<T>(waiting.number[first] + k), load_run<T>(waiting.number[first + 1] + k), load_run<T>(waiting.number[first + 2] + k)};
}

// Blows two cores that are apart up by their radii.
template <class T>
ARMWRIGHT_INLINE void tell(const Vector3<T>& a, const Vector3<T>& b, const T& radius_a, const T& radius_b, const T& kept, std::size_t k, Found& found) {
  const Vector3<T> v = a - b;
  const T core = norm(v);
  const Vector3<T> n = (T(1.0) / core) * v;
  store_run(core - (radius_a + radius_b) - kept, found.distance + k);
  const Vector3<T> on_a = a - radius_a * n, on_b = b + radius_b * n;
  store_run(on_a.x, found.a[0] + k), store_run(on_a.y, found.a[1] + k), store_run(on_a.z, found.a[2] + k);
  store_run(on_b.x, found.b[0] + k), store_run(on_b.y, found.b[1] + k), store_run(on_b.z, found.b[2] + k);
}

template <class T>
ARMWRIGHT_INLINE void settle_segments_in(const Waiting& waiting, Found& found) {
  for (std::size_t k = 0; k < widest_pack; k += width_of<T>) {
    const Vector3<T> c1 = three<T>(waiting, 0, k), d1 = three<T>(waiting, 3, k), c2 = three<T>(waiting, 6, k), d2 = three<T>(waiting, 9, k);
    T s, t;
    nearest_on_segments(c1, d1, c2, d2, s, t);
    tell(c1 + s * d1, c2 + t * d2, load_run<T>(waiting.number[12] + k), load_run<T>(waiting.number[13] + k), load_run<T>(waiting.number[14] + k), k, found);
  }
}

template <class T>
ARMWRIGHT_INLINE void settle_boxes_in(const Waiting& waiting, Found& found) {
  for (std::size_t k = 0; k < widest_pack; k += width_of<T>) {
    const Vector3<T> centre = three<T>(waiting, 6, k), half = three<T>(waiting, 18, k);
    const Rotation3<T> axes{three<T>(waiting, 9, k), three<T>(waiting, 12, k), three<T>(waiting, 15, k)};
    const Vector3<T> c = transpose_times(axes, three<T>(waiting, 0, k) - centre), d = transpose_times(axes, three<T>(waiting, 3, k));
    const Vector3<T> at = c + nearest_to_box(c, d, half) * d;
    const Vector3<T> on_box = at - excess(at, half);
    tell(axes * at + centre, axes * on_box + centre, load_run<T>(waiting.number[21] + k), T(0.0), load_run<T>(waiting.number[22] + k), k, found);
  }
}

void settle_segments(const Waiting& waiting, Found& found) {
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { settle_segments_in<T>(waiting, found); });
}
void settle_boxes(const Waiting& waiting, Found& found) {
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { settle_boxes_in<T>(waiting, found); });
}

bool before(const SolidPair& x, std::int32_t a, std::int32_t b) { return x.a != a ? x.a < a : x.b < b; }

bool less(const Candidate& x, const Candidate& y) {
  if (x.lane != y.lane) return x.lane < y.lane;
  if (x.bound != y.bound) return x.bound < y.bound;
  return before(x.pair, y.pair.a, y.pair.b);
}

}  // namespace

Separation plain_separation(const Scene& scene, const Pose* frames, const SolidPair& pair, double cutoff) {
  const Solid &a = scene.solids[static_cast<std::size_t>(pair.a)], &b = scene.solids[static_cast<std::size_t>(pair.b)];
  return separation(a.shape, pose_of(a, frames), b.shape, pose_of(b, frames), cutoff);
}

Separation told(const Scene& scene, const Pose* frames, const SolidPair& pair, double cutoff) {
  const double kept = taken_off(scene, scene.solids[static_cast<std::size_t>(pair.b)].clearance);
  Separation found = plain_separation(scene, frames, pair, cutoff + kept);
  found.distance -= kept;
  return found;
}

Settler::Settler(const Scene& scene, double cutoff, std::span<Clearance> out) : scene_(scene), out_(out) {
  std::fill(out.begin(), out.end(), Clearance{cutoff, {0, 0, 0}, {0, 0, 0}, -1, -1});
}

void Settler::offer(const Separation& found, const SolidPair& pair, std::size_t row) {
  Clearance& least = out_[row];
  const bool nearer = found.distance < least.distance || (found.distance == least.distance && least.solid_a >= 0 && before(pair, least.solid_a, least.solid_b));
  if (nearer) least = {found.distance + 0.0, found.a, found.b, pair.a, pair.b};
}

void Settler::settle(Waiting& waiting, bool boxes) {
  // Places left over repeat the first.
  for (std::size_t k = waiting.count; k < widest_pack; ++k)
    for (auto& numbers : waiting.number) numbers[k] = numbers[0];
  Found found;
  if (boxes) settle_boxes(waiting, found);
  else settle_segments(waiting, found);
  for (std::size_t k = 0; k < waiting.count; ++k)
    offer({found.distance[k], {found.a[0][k], found.a[1][k], found.a[2][k]}, {found.b[0][k], found.b[1][k], found.b[2][k]}}, waiting.pair[k], waiting.row[k]);
  waiting.count = 0;
}

void Settler::add_segments(const ClearanceWorkspace& work, const Candidate& candidate, std::size_t row) {
  const std::size_t k = segments_.count++;
  const auto i = static_cast<std::size_t>(candidate.pair.a), j = static_cast<std::size_t>(candidate.pair.b), at = static_cast<std::size_t>(candidate.lane);
  for (std::size_t n = 0; n < 6; ++n) segments_.number[n][k] = work.segments[(i * 6 + n) * widest_pack + at];
  for (std::size_t n = 0; n < 6; ++n) segments_.number[6 + n][k] = work.segments[(j * 6 + n) * widest_pack + at];
  segments_.number[12][k] = scene_.segment_radius[i], segments_.number[13][k] = scene_.segment_radius[j];
  segments_.number[14][k] = taken_off(scene_, 0);
  segments_.pair[k] = candidate.pair, segments_.row[k] = row;
  if (segments_.count == widest_pack) settle(segments_, false);
}

void Settler::add_box(const ClearanceWorkspace& work, const Candidate& candidate, std::size_t row) {
  const std::size_t k = boxes_.count++;
  const auto i = static_cast<std::size_t>(candidate.pair.a), at = static_cast<std::size_t>(candidate.lane);
  const StillBox& box = scene_.still[static_cast<std::size_t>(candidate.pair.b) - scene_.moving];
  for (std::size_t n = 0; n < 6; ++n) boxes_.number[n][k] = work.segments[(i * 6 + n) * widest_pack + at];
  std::size_t n = 6;
  for (const Vec3& v : {box.centre, box.axes.x, box.axes.y, box.axes.z, box.half})
    for (const double x : {v.x, v.y, v.z}) boxes_.number[n++][k] = x;
  boxes_.number[21][k] = scene_.segment_radius[i];
  boxes_.number[22][k] = taken_off(scene_, box.kept);
  boxes_.pair[k] = candidate.pair, boxes_.row[k] = row;
  if (boxes_.count == widest_pack) settle(boxes_, true);
}

// The first `count` candidates, which cost much: the nearest first, as far as none can be as near.
void Settler::ask_plainly(ClearanceWorkspace& work, std::size_t first, std::size_t count) {
  Candidate *const from = work.candidates.get(), *const to = from + count;
  std::sort(from, to, less);
  std::int32_t at = -1;
  const Pose* frames = nullptr;
  for (const Candidate* candidate = from; candidate != to; ++candidate) {
    const auto k = static_cast<std::size_t>(candidate->lane);
    const double most = work.best[k] + work.slack[k];
    if (!(candidate->bound <= most)) continue;
    if (candidate->lane != at) frames = frames_of(work, k), at = candidate->lane;
    const Separation found = told(scene_, frames, candidate->pair, most);
    if (!(found.distance <= most)) continue;
    work.best[k] = std::min(work.best[k], found.distance);
    offer(found, candidate->pair, first + k);
  }
}

void Settler::take(ClearanceWorkspace& work, std::size_t first) {
  std::size_t plain = 0;
  for (std::size_t i = 0; i < work.candidate_count; ++i) {
    const Candidate candidate = work.candidates[i];
    const auto k = static_cast<std::size_t>(candidate.lane);
    if (!(candidate.bound <= work.best[k] + work.slack[k])) continue;
    switch (candidate.settling) {
      case Settling::segments: add_segments(work, candidate, first + k); break;
      case Settling::box: add_box(work, candidate, first + k); break;
      default: work.candidates[plain++] = candidate;
    }
  }
  if (plain > 0) ask_plainly(work, first, plain);
}

void Settler::finish() {
  if (segments_.count > 0) settle(segments_, false);
  if (boxes_.count > 0) settle(boxes_, true);
  for (Clearance& one : out_) {
    if (one.solid_a < 0) continue;
    one.solid_a = scene_.solids[static_cast<std::size_t>(one.solid_a)].name;
    one.solid_b = scene_.solids[static_cast<std::size_t>(one.solid_b)].name;
  }
}

}  // namespace armwright
