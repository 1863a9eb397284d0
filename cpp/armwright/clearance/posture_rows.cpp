#include "armwright/clearance/posture_rows.hpp"

#include <limits>

namespace armwright {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr std::size_t few_postures = 8;  // of which all distances are asked

// Room for that many postures.
void make_room(std::size_t count, std::size_t n, PostureRows& rows) {
  if (rows.of.size() >= count) return;
  rows.q.resize(count * n), rows.limit_margin.resize(count), rows.of.resize(count);
}

ARMWRIGHT_INLINE void keep(const double* q, std::size_t n, double margin, std::size_t question, PostureRows& rows) {
  const std::size_t at = rows.count++;
  for (std::size_t i = 0; i < n; ++i) rows.q[at * n + i] = q[i];
  rows.limit_margin[at] = margin;
  rows.of[at] = static_cast<std::uint32_t>(question);
}

// All questions share one setup: they differ by where its base stands.
void solve_together(const BatchArm& usual, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, PostureRows& rows) {
  const std::vector<HeldRow>& asked = rows.asked;
  const ArmInverse& inverse = usual.inverse;
  const std::size_t n = inverse.model.joint_count, most = static_cast<std::size_t>(most_solutions(inverse)), count = asked.size();
  rows.targets.resize(16 * count);
  rows.found.resize(count * most * n), rows.valid.resize(count * most), rows.free_joint.resize(count * most);
  for (std::size_t k = 0; k < count; ++k) {
    const Pose target{attitudes[asked[k].attitude], positions[asked[k].position]};
    pose_to_rows(inverse.redundant.empty() ? target : inverse.usual.base * (armwright::inverse(asked[k].arm->base) * target), &rows.targets[16 * k]);
  }
  solve_batch(usual, false, rows.targets, {most, rows.found.data(), rows.valid.data(), rows.free_joint.data()});
  for (std::size_t k = 0; k < count && !inverse.redundant.empty(); ++k)
    for (std::size_t i = 0; i < most; ++i) std::copy(asked[k].arm->held.begin(), asked[k].arm->held.end(), &rows.found[(k * most + i) * n]);
  const Model& model = inverse.model;
  make_room(count * most, n, rows);
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    constexpr std::size_t width = width_of<T>;
    static_assert(max_solutions % width == 0 && 8 % width == 0);
    for (std::size_t at = 0; at < count * most; at += width) {
      std::uint8_t is = 0;
      for (std::size_t i = 0; i < width; ++i) is |= rows.valid[at + i];
      if (!is) continue;
      double margin[width];
      store_run(limit_margin_of<widened<T>>(model, &rows.found[at * n], n), margin);
      for (std::size_t i = 0; i < width; ++i)
        if (rows.valid[at + i] && margin[i] >= 0) keep(&rows.found[(at + i) * n], n, margin[i], (at + i) / most, rows);
    }
  });
}

}  // namespace

PostureRows make_posture_rows(const PostureSearch& search) {
  PostureRows rows;
  const ArmInverse& inverse = *search.inverse;
  if (inverse.base_only && inverse.usual.six) rows.usual = std::make_unique<const BatchArm>(batch_arm(inverse, inverse.usual));
  return rows;
}

void start_asking(PostureRows& rows) { rows.next = {}; }

bool ask_next(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, PostureRows& rows) {
  rows.asked.clear(), rows.nearest.clear();
  rows.asked.reserve(questions_at_once), rows.nearest.reserve(questions_at_once);
  for (auto& [p, a, sample] = rows.next; p < positions.size(); ++p, a = 0) {
    if (a == 0 && sample == 0) {
      rows.samples.clear();
      for (const HeldArm& held : search.samples)
        if (!is_beyond_reach(search, positions[p], held)) rows.samples.push_back(&held);
    }
    if (rows.samples.empty() && !search.tries_nearest) continue;
    for (; a < attitudes.size(); ++a, sample = 0) {
      const Pose target{attitudes[a], positions[p]};
      for (; sample < rows.samples.size(); ++sample) {
        if (rows.asked.size() == questions_at_once) return true;
        if (!is_wrist_beyond(search, target, *rows.samples[sample])) rows.asked.push_back({p, a, rows.samples[sample]});
      }
      if (!search.tries_nearest) continue;
      if (rows.asked.size() == questions_at_once) return true;
      HeldArm nearest = held_nearest(search, target);
      if (is_beyond_reach(search, positions[p], nearest) || is_wrist_beyond(search, target, nearest)) continue;
      rows.nearest.push_back(std::move(nearest));
      rows.asked.push_back({p, a, &rows.nearest.back()});
    }
  }
  return !rows.asked.empty();
}

void find_postures(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, ArmSolutions& scratch,
                   PostureRows& rows) {
  const std::vector<HeldRow>& asked = rows.asked;
  const ArmInverse& inverse = *search.inverse;
  const Model& model = *search.model;
  rows.count = 0;
  if (rows.usual) return solve_together(*rows.usual, positions, attitudes, rows);
  make_room(asked.size() * max_solutions, model.joint_count, rows);
  for (std::size_t k = 0; k < asked.size(); ++k) {
    solve_arm(inverse, *asked[k].arm, {attitudes[asked[k].attitude], positions[asked[k].position]}, scratch);
    for (int i = 0; i < scratch.count; ++i) {
      const double* q = scratch.solution[static_cast<std::size_t>(i)].q.data();
      if (const double margin = limit_margin(model, q); margin >= 0) keep(q, model.joint_count, margin, k, rows);
    }
  }
}

void clear_rows(const PostureSearch& search, PostureWork& work, PostureRows& rows, std::vector<std::uint8_t>& clear) {
  clear.assign(rows.count, 1);
  if (!search.scene) return;
  rows.pointers.clear();
  for (std::size_t i = 0; i < rows.count; ++i) rows.pointers.push_back(&rows.frames[i * search.model->joint_count]);
  are_clear(*search.scene, rows.pointers, *work.clearance, search.margin, clear);
}

void clearest_of(const PostureSearch& search, PostureWork& work, std::span<const std::uint8_t> clear, PostureRows& rows, std::span<double> best) {
  const std::vector<HeldRow>& asked = rows.asked;
  const std::size_t n = search.model->joint_count;
  std::vector<const Pose*>& open = rows.pointers;  // worth the exact distance, and of which position each
  open.clear(), rows.places.clear();
  const auto ask = [&] {
    rows.distances.resize(open.size());
    least_distances(*search.scene, open, *work.clearance, infinite, rows.distances);
    for (std::size_t i = 0; i < open.size(); ++i) best[rows.places[i]] = std::max(best[rows.places[i]], rows.distances[i].distance);
    open.clear(), rows.places.clear();
  };
  // Of many postures of one position only those that are clearer than the best of the first ones are.
  const auto narrow = [&](std::size_t from, std::uint32_t place) {
    if (!(best[place] > search.margin)) return;
    rows.clearer.assign(open.size() - from, 1);
    are_clear(*search.scene, std::span<const Pose* const>(open).subspan(from), *work.clearance, best[place], rows.clearer);
    std::size_t kept = from;
    for (std::size_t i = 0; i < rows.clearer.size(); ++i)
      if (rows.clearer[i]) open[kept++] = open[from + i];
    open.resize(kept), rows.places.resize(kept);
  };
  for (std::size_t i = 0; i < clear.size();) {
    const std::uint32_t place = asked[rows.of[i]].position;
    const std::size_t from = open.size();
    std::size_t taken = 0;
    for (; i < clear.size() && asked[rows.of[i]].position == place; ++i) {
      if (!clear[i]) continue;
      open.push_back(&rows.frames[i * n]), rows.places.push_back(place);
      if (++taken == few_postures && !(best[place] > search.margin)) ask();
    }
    if (taken > few_postures) narrow(open.size() < from + taken ? 0 : from, place);
  }
  if (!open.empty()) ask();
}

}  // namespace armwright
