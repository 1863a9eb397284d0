#include "armwright/clearance/scene.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/clearance/settle.hpp"

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

}  // namespace

std::span<const std::string> solid_names(const Scene& scene) { return scene.names; }
std::vector<std::pair<std::string, std::string>> touching_pairs(const Scene& scene) { return scene.touching; }

std::shared_ptr<ClearanceWorkspace> make_workspace(const Scene& scene) {
  auto work = std::make_shared<ClearanceWorkspace>();
  work->frames.resize(max_joints * 12 * widest_pack);
  work->segments.resize(scene.moving * 6 * widest_pack);
  work->arm_told.resize(scene.arm_pairs.size() * widest_pack);
  work->of_one.resize(max_joints);
  work->candidates = std::make_unique_for_overwrite<Candidate[]>(widest_pack * (scene.still_pairs.size() + scene.arm_pairs.size() + scene.plane_pairs.size()));
  return work;
}

std::shared_ptr<const Scene> spare_scene(const Scene& scene, double margin) {
  auto spare = std::make_shared<Scene>(scene);
  spare->tells_spare = true;
  spare->spare_margin = std::max(margin, 0.0);
  return spare;
}

Obstacle worst_obstacle(const Scene& scene, const Pose* frames, double margin) {
  margin = std::max(margin, 0.0);
  Obstacle worst{{infinity, {0, 0, 0}, {0, 0, 0}, -1, -1}, margin};
  double least = infinity;
  const auto look = [&](const SolidPair& pair) {
    const double needed = required(scene, pair, margin);
    const Separation here = plain_separation(scene, frames, pair, least + needed);
    if (!(here.distance - needed < least)) return;
    least = here.distance - needed;
    const auto name = [&](std::int32_t solid) { return scene.solids[static_cast<std::size_t>(solid)].name; };
    worst = {{here.distance, here.a, here.b, name(pair.a), name(pair.b)}, needed};
  };
  for (const SolidPair& pair : scene.arm_pairs) look(pair);
  for (std::size_t i = 0; i < scene.moving; ++i)
    for (std::size_t j = 0; j < scene.bounded; ++j)
      if (scene.still_pairs[i * scene.bounded + j] != Pairing::left_out)
        look({static_cast<std::int32_t>(i), static_cast<std::int32_t>(scene.moving + j)});
  for (const SolidPair& pair : scene.plane_pairs) look(pair);
  return worst;
}

namespace {

// The yes/no of a pack that is seated.
void answer_clear(const Scene& scene, ClearanceWorkspace& work, std::uint8_t* out) {
  screen_clear(scene, work);
  std::int32_t at = -1;
  const Pose* frames = nullptr;
  for (std::size_t i = 0; i < work.candidate_count; ++i) {
    const Candidate& candidate = work.candidates[i];
    const auto k = static_cast<std::size_t>(candidate.lane);
    if (work.blocked[k]) continue;
    if (candidate.lane != at) frames = frames_of(work, k), at = candidate.lane;
    const double needed = required(scene, candidate.pair, work.margin[k]);
    work.blocked[k] = plain_separation(scene, frames, candidate.pair, needed).distance < needed - just_kept;
  }
  for (std::size_t k = 0; k < work.lanes; ++k) out[k] = work.blocked[k] ? 0 : 1;
}

// Calls each(first row) for one pack after the other, seated by seat(first row, rows of the pack).
template <class Seat, class Each>
void for_each_pack(std::size_t rows, const Seat& seat, const Each& each) {
  const std::size_t width = pack_width();
  for (std::size_t row = 0; row < rows; row += width) {
    seat(row, std::min(width, rows - row));
    each(row);
  }
}

template <class Seat>
void nearest_of_rows(const Scene& scene, ClearanceWorkspace& work, double cutoff, std::span<Clearance> out, const Seat& seat) {
  Settler settler(scene, cutoff, out);
  for_each_pack(out.size(), seat, [&](std::size_t row) {
    screen_nearest(scene, work, cutoff);
    settler.take(work, row);
  });
  settler.finish();
}

template <class Seat>
void clear_of_rows(const Scene& scene, ClearanceWorkspace& work, double margin, std::span<std::uint8_t> out, const Seat& seat) {
  work.margin.fill(std::max(margin, 0.0));
  for_each_pack(out.size(), seat, [&](std::size_t row) { answer_clear(scene, work, &out[row]); });
}

}  // namespace

void least_distances(const Scene& scene, std::span<const Pose* const> frames, ClearanceWorkspace& work, double cutoff, std::span<Clearance> out) {
  nearest_of_rows(scene, work, cutoff, out, [&](std::size_t row, std::size_t count) { seat_pack(&frames[row], count, scene.frames_used, work); });
}

void are_clear(const Scene& scene, std::span<const Pose* const> frames, ClearanceWorkspace& work, double margin, std::span<std::uint8_t> out) {
  clear_of_rows(scene, work, margin, out, [&](std::size_t row, std::size_t count) { seat_pack(&frames[row], count, scene.frames_used, work); });
}

void are_clear(const Scene& scene, ClearanceWorkspace& work, std::span<const double> margins, std::span<std::uint8_t> out, const Seat& seat) {
  for_each_pack(out.size(), seat, [&](std::size_t row) {
    for (std::size_t k = 0; k < widest_pack; ++k) work.margin[k] = std::max(margins[row + (k < work.lanes ? k : 0)], 0.0);
    answer_clear(scene, work, &out[row]);
  });
}

void least_distances(const Scene& scene, ClearanceWorkspace& work, std::span<Clearance> out, const Seat& seat) {
  nearest_of_rows(scene, work, infinity, out, seat);
}

Clearance least_distance(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double cutoff) {
  Clearance found;
  least_distances(scene, {&frames, 1}, work, cutoff, {&found, 1});
  return found;
}

bool is_clear(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double margin) {
  std::uint8_t clear = 0;
  are_clear(scene, {&frames, 1}, work, margin, {&clear, 1});
  return clear != 0;
}

namespace {

void nearest_of_joints(const Scene& scene, const Model& model, std::span<const double> q, ClearanceWorkspace& work, std::span<Clearance> out) {
  const std::size_t n = model.joint_count;
  nearest_of_rows(scene, work, infinity, out, [&](std::size_t row, std::size_t count) { seat_pack(model, &q[row * n], count, work); });
}

}  // namespace

void least_distances(const Scene& scene, const Model& model, std::span<const double> q, std::span<Clearance> out) {
  nearest_of_joints(scene, model, q, *make_workspace(scene), out);
}

void least_distances(const Scene& scene, const Model& model, std::span<const double> q,
                     const std::function<void(std::size_t first, std::span<const Clearance> found)>& take) {
  constexpr std::size_t at_once = 512;
  const auto work = make_workspace(scene);
  const std::size_t n = model.joint_count, rows = rows_of(model, q);
  std::vector<Clearance> found(std::min(at_once, rows));
  for (std::size_t first = 0; first < rows; first += at_once) {
    const std::span<Clearance> here(found.data(), std::min(at_once, rows - first));
    nearest_of_joints(scene, model, q.subspan(first * n, here.size() * n), *work, here);
    take(first, here);
  }
}

void are_clear(const Scene& scene, const Model& model, std::span<const double> q, double margin, std::span<std::uint8_t> out) {
  const auto work = make_workspace(scene);
  const std::size_t n = model.joint_count;
  clear_of_rows(scene, *work, margin, out, [&](std::size_t row, std::size_t count) { seat_pack(model, &q[row * n], count, *work); });
}

}  // namespace armwright
