#include "armwright/clearance/scene.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/clearance/scene_data.hpp"
#include "armwright/kinematics/forward.hpp"

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

Separation exact(const Scene& scene, const Pose* frames, const SolidPair& pair, double cutoff) {
  const Solid &a = scene.solids[static_cast<std::size_t>(pair.a)], &b = scene.solids[static_cast<std::size_t>(pair.b)];
  return separation(a.shape, pose_of(a, frames), b.shape, pose_of(b, frames), cutoff);
}

// As the scene tells it: less what the pair is to keep, where it tells the spare.
Separation told(const Scene& scene, const Pose* frames, const SolidPair& pair, double cutoff) {
  if (!scene.tells_spare) return exact(scene, frames, pair, cutoff);
  const double kept = required(scene, pair, scene.spare_margin);
  Separation found = exact(scene, frames, pair, cutoff + kept);
  found.distance -= kept;
  return found;
}

bool less(const Candidate& x, const Candidate& y) {
  if (x.bound != y.bound) return x.bound < y.bound;
  return x.pair.a != y.pair.a ? x.pair.a < y.pair.a : x.pair.b < y.pair.b;
}

}  // namespace

std::span<const std::string> solid_names(const Scene& scene) { return scene.names; }
std::vector<std::pair<std::string, std::string>> touching_pairs(const Scene& scene) { return scene.touching; }

std::shared_ptr<ClearanceWorkspace> make_workspace(const Scene& scene) {
  auto work = std::make_shared<ClearanceWorkspace>();
  for (auto* numbers : {&work->x, &work->y, &work->z, &work->way_x, &work->way_y, &work->way_z}) numbers->resize(scene.moving);
  work->bound.resize(scene.moving * scene.groups.size());
  work->candidates.resize(4 * scene.moving * scene.groups.size() + scene.arm_pairs.size() + scene.plane_pairs.size());
  return work;
}

Clearance least_distance(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double cutoff) {
  const Screening screening = screen(scene, frames, work, cutoff);
  double best = screening.best;
  SolidPair pair = screening.pair;
  Separation nearest{best, {0, 0, 0}, {0, 0, 0}};
  bool known = false;
  const auto first = work.candidates.begin(), last = first + static_cast<std::ptrdiff_t>(work.candidate_count);
  std::sort(first, last, less);
  for (auto candidate = first; candidate != last && candidate->bound < best; ++candidate) {
    const Separation here = told(scene, frames, candidate->pair, best);
    if (!(here.distance < best)) continue;
    best = here.distance;
    pair = candidate->pair;
    nearest = here;
    known = true;
  }
  if (pair.a < 0) return {best, {0, 0, 0}, {0, 0, 0}, -1, -1};
  if (!known) nearest = told(scene, frames, pair, infinity);
  return {nearest.distance, nearest.a, nearest.b, scene.solids[static_cast<std::size_t>(pair.a)].name, scene.solids[static_cast<std::size_t>(pair.b)].name};
}

std::shared_ptr<const Scene> spare_scene(const Scene& scene, double margin) {
  auto spare = std::make_shared<Scene>(scene);
  spare->tells_spare = true;
  spare->spare_margin = margin = std::max(margin, 0.0);
  const std::size_t group_count = scene.groups.size();
  for (std::size_t at = 0; at < spare->left_out.size(); ++at) spare->left_out[at] = spare->left_out[at] - maximum(scene.kept[at % group_count], Lanes(margin));
  for (Lanes& four : spare->arm_left_out) four = four - Lanes(margin);
  return spare;
}

Obstacle worst_obstacle(const Scene& scene, const Pose* frames, double margin) {
  margin = std::max(margin, 0.0);
  Obstacle worst{{infinity, {0, 0, 0}, {0, 0, 0}, -1, -1}, margin};
  double least = infinity;
  const auto look = [&](const SolidPair& pair) {
    const double needed = required(scene, pair, margin);
    const Separation here = exact(scene, frames, pair, least + needed);
    if (!(here.distance - needed < least)) return;
    least = here.distance - needed;
    const auto name = [&](std::int32_t solid) { return scene.solids[static_cast<std::size_t>(solid)].name; };
    worst = {{here.distance, here.a, here.b, name(pair.a), name(pair.b)}, needed};
  };
  for (const SolidPair& pair : scene.arm_pairs) look(pair);
  for (std::size_t i = 0; i < scene.moving; ++i)
    for (std::size_t j = 0; j < scene.bounded; ++j)
      if (scene.left_out[i * scene.groups.size() + j / 4][j % 4] == 0)
        look({static_cast<std::int32_t>(i), static_cast<std::int32_t>(scene.moving + j)});
  for (const SolidPair& pair : scene.plane_pairs) look(pair);
  return worst;
}

bool is_clear(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double margin) {
  margin = std::max(margin, 0.0);
  if (!screen_clear(scene, frames, work, margin)) return false;
  for (std::size_t i = 0; i < work.candidate_count; ++i) {
    const SolidPair& pair = work.candidates[i].pair;
    const double needed = required(scene, pair, margin);
    if (exact(scene, frames, pair, needed).distance < needed - just_kept) return false;
  }
  return true;
}

namespace {

// Calls each(row, frames) for all rows, the frames of four found side by side.
template <class Each>
void for_each_row(const Model& model, std::span<const double> q, const Each& each) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q);
  Pose frames[4 * max_joints];
  double last[4 * max_joints];
  for (std::size_t row = 0; row < rows; row += 4) {
    const double* from = &q[row * n];
    const std::size_t count = std::min<std::size_t>(4, rows - row);
    if (count < 4) {  // the last ones, filled up with the first of them, so that every row is worked out alike
      for (std::size_t k = 0; k < 4; ++k) std::copy_n(&q[(row + (k < count ? k : 0)) * n], n, last + k * n);
      from = last;
    }
    joint_frames_of_four(model, from, frames);
    for (std::size_t k = 0; k < count; ++k) each(row + k, frames + k * n);
  }
}

}  // namespace

void least_distances(const Scene& scene, const Model& model, std::span<const double> q, std::span<Clearance> out) {
  const auto work = make_workspace(scene);
  for_each_row(model, q, [&](std::size_t row, const Pose* frames) { out[row] = least_distance(scene, frames, *work, infinity); });
}

void are_clear(const Scene& scene, const Model& model, std::span<const double> q, double margin, std::span<std::uint8_t> out) {
  const auto work = make_workspace(scene);
  for_each_row(model, q, [&](std::size_t row, const Pose* frames) { out[row] = is_clear(scene, frames, *work, margin) ? 1 : 0; });
}

}  // namespace armwright
