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

void put_seen(const Pose& seen, double* row) {
  const auto& [R, p] = seen;
  const double numbers[12] = {R.x.x, R.x.y, R.x.z, R.y.x, R.y.y, R.y.z, R.z.x, R.z.y, R.z.z, p.x, p.y, p.z};
  std::copy_n(numbers, 12, row);
}

// See limit_margin(). Of solved joints, which stand by whole turns next to the middle of their ranges, from their turns.
void put_margins(const Model& model, std::size_t held, PostureRows& rows) {
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    for (std::size_t first = 0; first < rows.count; first += width_of<T>) {
      T margin(1.0);
      for (std::size_t j = held; j < model.joint_count; ++j) {
        const double half = 0.5 * (model.upper[j] - model.lower[j]), middle = 0.5 * (model.lower[j] + model.upper[j]), round = 2 * half_round;
        if (!std::isfinite(half) || half <= 0) continue;
        const double* turn = &rows.turn[2 * j * rows.room + first];
        const T value = angle_of_unit(Turn<T>{load_run<T>(turn + rows.room), load_run<T>(turn)}) - T(model.step[j].zero);
        const T r = value - T(round) * detail::nearest((value - T(middle)) * T(1 / round));
        margin = minimum(minimum(r - T(model.lower[j]), T(model.upper[j]) - r) / T(half), margin);
      }
      store_run(maximum(margin, T(0.0)), &rows.limit_margin[first]);
    }
  });
  if (held == 0) return;
  for (std::size_t row = 0; row < rows.count; ++row)
    rows.limit_margin[row] = std::min(rows.limit_margin[row], std::max(limit_margin(model, rows.asked[rows.of[row]].arm->held), 0.0));
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
      put_seen(rows.seen_attitudes[a].with_tool_at(positions[p]), row);
      continue;
    }
    const Pose moved = usual.held.base * (inverse(arm->base) * Pose{attitudes[a], positions[p]});
    put_seen(seen_attitude(*usual.packs, moved.rotation).with_tool_at(moved.position), row);
  }
  FoundTurns found{&rows.turn[2 * held * rows.room], rows.room, rows.of.data(), rows.alone.data()};
  find_turns(usual, {rows.seen.data(), 16 * asked.size()}, found);
  rows.count = found.count;
  for (std::size_t j = 0; j < held; ++j)
    for (std::size_t row = 0; row < rows.count; ++row)
      put_turn(model.step[j], asked[rows.of[row]].arm->held[j], &rows.turn[2 * j * rows.room + row], rows.room);
  if (rows.tells_margins) put_margins(model, held, rows);
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

std::size_t padded(std::size_t count) { return (count + widest_pack - 1) / widest_pack * widest_pack; }

// What is the same at all positions where no joint is held.
void prepare_attitudes(const PostureSearch& search, const std::vector<Rotation>& attitudes, PostureRows& rows) {
  const std::size_t run = padded(attitudes.size());
  rows.wrists.assign(3 * run, 0), rows.beyond.assign(run, 0);
  for (std::size_t a = 0; a < attitudes.size(); ++a) {
    rows.seen_attitudes.push_back(seen_attitude(*rows.usual->packs, attitudes[a]));
    const Vec3 to = transpose_times(rows.usual->held.base.rotation, attitudes[a] * search.wrist.in_tool);
    rows.wrists[a] = to.x, rows.wrists[run + a] = to.y, rows.wrists[2 * run + a] = to.z;
  }
}

// is_wrist_beyond() for all attitudes at one position.
void mark_beyond(const PostureSearch& search, const Vec3& position, PostureRows& rows) {
  const WristBound& wrist = search.wrist;
  const Pose& base = rows.usual->held.base;
  const Vec3 from_root = transpose_times(base.rotation, position - base.position) - wrist.root;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    const std::size_t run = rows.beyond.size();
    for (std::size_t a = 0; a < run; a += width_of<T>) {
      const double* to = &rows.wrists[a];
      const Vector3<T> away = spread<T>(from_root) + Vector3<T>{load_run<T>(to), load_run<T>(to + run), load_run<T>(to + 2 * run)};
      const T along = dot(away, spread<T>(wrist.axis)), across = square_root(maximum(dot(away, away) - along * along, T(0.0)));
      const T off = across - T(wrist.radius), up = along - T(wrist.height);
      const auto beyond = off * off + up * up > T(wrist.reach * wrist.reach);
      for (std::size_t k = 0; k < width_of<T>; ++k) rows.beyond[a + k] = lane(beyond, k);
    }
  });
}

}  // namespace

PostureRows make_posture_rows(const PostureSearch& search, const std::vector<Rotation>& attitudes, bool tells_margins) {
  PostureRows rows;
  rows.tells_margins = tells_margins;
  const ArmInverse& inverse = *search.inverse;
  if (inverse.base_only && inverse.usual.six) rows.usual = std::make_unique<const BatchArm>(batch_arm(inverse, inverse.usual));
  if (rows.usual && !rows.usual->packs) rows.usual = nullptr;
  if (rows.usual && inverse.redundant.empty()) prepare_attitudes(search, attitudes, rows);
  const std::size_t most = questions_at_once * static_cast<std::size_t>(most_solutions(inverse));
  rows.room = most + widest_pack;
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
    const bool marked = !rows.beyond.empty();
    if (marked && a == 0 && sample == 0) mark_beyond(search, positions[p], rows);
    for (; a < attitudes.size(); ++a, sample = 0) {
      const Pose target{attitudes[a], positions[p]};
      for (; sample < rows.samples.size(); ++sample) {
        if (rows.asked.size() == questions_at_once) return true;
        if (!(marked ? rows.beyond[a] != 0 : is_wrist_beyond(search, target, *rows.samples[sample]))) rows.asked.push_back({p, a, rows.samples[sample]});
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
