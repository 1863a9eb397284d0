#include "armwright/clearance/posture_rows.hpp"

#include <numeric>

#include "armwright/clearance/pack.hpp"

namespace armwright {

namespace {

void put_turn(const JointStep& step, double q, double* turn, std::size_t room) {
  if (step.kind == JointKind::revolute) sin_cos(q + step.zero, turn[0], turn[room]);
  else turn[0] = q;
}

// The postures of one question by solve_arm().
void find_alone(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, std::uint32_t question,
                ArmSolutions& scratch, PostureRows& rows) {
  const Model& model = *search.model;
  const HeldRow& asked = rows.asked[question];
  solve_arm(*search.inverse, *asked.arm, {attitudes[asked.attitude], positions[asked.position]}, scratch);
  for (int i = 0; i < scratch.count; ++i) {
    const double* q = scratch.solution[static_cast<std::size_t>(i)].q.data();
    const double margin = limit_margin(model, q);
    if (!(margin >= 0)) continue;
    const std::size_t at = rows.count++;
    for (std::size_t j = 0; j < model.joint_count; ++j) put_turn(model.step[j], q[j], &rows.turn[2 * j * rows.room + at], rows.room);
    rows.limit_margin[at] = margin, rows.of[at] = question;
  }
}

void put_seen(const Pose& seen, double margin, double* row) {
  const auto& [R, p] = seen;
  const double numbers[13] = {R.x.x, R.x.y, R.x.z, R.y.x, R.y.y, R.y.z, R.z.x, R.z.y, R.z.z, p.x, p.y, p.z, margin};
  std::copy_n(numbers, 13, row);
}

// All questions share one setup: they differ by where its base stands.
void find_together(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, ArmSolutions& scratch,
                   PostureRows& rows) {
  const std::vector<HeldRow>& asked = rows.asked;
  const BatchArm& usual = *rows.usual;
  const Model& model = *search.model;
  const std::size_t held = usual.inverse.redundant.size();
  for (std::size_t k = 0; k < asked.size(); ++k) {
    const auto& [p, a, arm] = asked[k];
    double* row = &rows.seen[16 * k];
    if (held == 0) {
      put_seen(rows.seen_attitudes[a].with_tool_at(positions[p]), 1, row);
      continue;
    }
    const Pose moved = usual.held.base * (inverse(arm->base) * Pose{attitudes[a], positions[p]});
    put_seen(seen_attitude(*usual.packs, moved.rotation).with_tool_at(moved.position), limit_margin(model, arm->held), row);
  }
  FoundTurns found{&rows.turn[2 * held * rows.room], rows.room, rows.limit_margin.data(), rows.of.data(), rows.alone.data()};
  find_turns(usual, {rows.seen.data(), 16 * asked.size()}, found);
  rows.count = found.count;
  for (std::size_t j = 0; j < held; ++j)
    for (std::size_t row = 0; row < rows.count; ++row)
      put_turn(model.step[j], asked[rows.of[row]].arm->held[j], &rows.turn[2 * j * rows.room + row], rows.room);
  for (std::size_t i = 0; i < found.alone_count; ++i) find_alone(search, positions, attitudes, rows.alone[i], scratch, rows);
}

// Rows question by question, which leaves the order of those of one question.
void put_in_order(PostureRows& rows) {
  rows.first.assign(rows.asked.size() + 1, 0);
  for (std::size_t i = 0; i < rows.count; ++i) ++rows.first[rows.of[i] + 1];
  std::partial_sum(rows.first.begin(), rows.first.end(), rows.first.begin());
  for (std::uint32_t i = 0; i < rows.count; ++i) rows.order[rows.first[rows.of[i]]++] = i;
  for (std::size_t k = rows.first.size() - 1; k > 0; --k) rows.first[k] = rows.first[k - 1];
  rows.first[0] = 0;
}

template <class T>
ARMWRIGHT_INLINE void seat_some(const Model& model, const PostureRows& rows, const std::uint32_t* which, std::size_t count, ClearanceWorkspace& work) {
  Pose3<T> frames[max_joints];
  std::uint32_t at[width_of<T>];
  bool run = true;
  for (std::size_t k = 0; k < width_of<T>; ++k) {
    at[k] = which[k < count ? k : 0];
    run = run && at[k] == at[0] + k;
  }
  frames_of_turns(model, [&](std::size_t number) ARMWRIGHT_INLINE_LAMBDA {
    const double* numbers = &rows.turn[number * rows.room];
    if (run) return load_run<T>(numbers + at[0]);
    T some(0.0);
    for (std::size_t k = 0; k < width_of<T>; ++k) set_lane(some, k, numbers[at[k]]);
    return some;
  }, frames);
  seat_frames(frames, model.joint_count, work);
}

Seat seat_of(const PostureSearch& search, const PostureRows& rows, std::span<const std::uint32_t> which, ClearanceWorkspace& work) {
  return [&search, &rows, which, &work](std::size_t first, std::size_t count) {
    work.lanes = count, work.joints = search.model->joint_count;
    with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { seat_some<T>(*search.model, rows, &which[first], count, work); });
  };
}

}  // namespace

PostureRows make_posture_rows(const PostureSearch& search, const std::vector<Rotation>& attitudes) {
  PostureRows rows;
  const ArmInverse& inverse = *search.inverse;
  if (inverse.base_only && inverse.usual.six) rows.usual = std::make_unique<const BatchArm>(batch_arm(inverse, inverse.usual));
  if (rows.usual && !rows.usual->packs) rows.usual = nullptr;
  if (rows.usual && inverse.redundant.empty())
    for (const Rotation& attitude : attitudes) rows.seen_attitudes.push_back(seen_attitude(*rows.usual->packs, attitude));
  const std::size_t most = questions_at_once * static_cast<std::size_t>(most_solutions(inverse));
  rows.room = most + WideLanes::width;
  rows.turn.resize(2 * search.model->joint_count * rows.room), rows.limit_margin.resize(rows.room), rows.of.resize(rows.room), rows.order.resize(most);
  rows.seen.resize(16 * questions_at_once), rows.alone.resize(questions_at_once);
  rows.asked.reserve(questions_at_once), rows.nearest.reserve(questions_at_once);
  return rows;
}

void start_asking(PostureRows& rows) { rows.next = {}; }

bool ask_next(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, PostureRows& rows) {
  rows.asked.clear(), rows.nearest.clear();
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
  rows.count = 0;
  if (rows.usual) find_together(search, positions, attitudes, scratch, rows);
  else
    for (std::uint32_t k = 0; k < rows.asked.size(); ++k) find_alone(search, positions, attitudes, k, scratch, rows);
  if (rows.count > 0) put_in_order(rows);
}

void clear_rows(const PostureSearch& search, PostureWork& work, const PostureRows& rows, std::span<const std::uint32_t> which,
                std::span<const double> margins, std::span<std::uint8_t> clear) {
  if (search.scene) are_clear(*search.scene, *work.clearance, margins, clear, seat_of(search, rows, which, *work.clearance));
  else std::fill(clear.begin(), clear.end(), std::uint8_t{1});
}

void clearest_of(const PostureSearch& search, PostureWork& work, std::span<const std::uint32_t> which, PostureRows& rows, std::span<double> best) {
  rows.distances.resize(which.size());
  least_distances(*search.scene, *work.clearance, rows.distances, seat_of(search, rows, which, *work.clearance));
  for (std::size_t i = 0; i < which.size(); ++i) {
    double& most = best[rows.asked[rows.of[which[i]]].position];
    most = std::max(most, rows.distances[i].distance);
  }
}

}  // namespace armwright
