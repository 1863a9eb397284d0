#include "armwright/studies/reach.hpp"

#include <limits>

#include "armwright/clearance/posture_rows.hpp"
#include "armwright/kinematics/jacobian_columns.hpp"

namespace armwright {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();

// Of one position.
struct Best {
  double limit_margin = -infinite, manipulability = -infinite;
  std::int32_t reached = 0;
  std::uint32_t last = 0;  // the attitude that was counted last, if any was
};

// What is known of a posture.
enum class Told : std::uint8_t { unknown, clear, blocked };

// What one thread works with.
struct ReachWork {
  PostureWork& plain;
  PostureRows rows;
  std::vector<double> manipulability{};
  std::vector<Told> told{};
  std::vector<std::uint8_t> served{};
  std::vector<std::uint32_t> which{};  // postures to be asked, and their margins and answers
  std::vector<double> margins{};
  std::vector<std::uint8_t> clear{};
  std::array<Best, positions_at_once> best{};
  std::array<double, positions_at_once> clearance{};

  std::uint32_t position_of(std::size_t row) const { return rows.asked[rows.of[row]].position; }
};

void measure(const Model& model, ReachWork& work) {
  work.manipulability.resize(work.rows.room);
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA {
    in_posture_packs<T>(model, work.rows, [&](const Pose3<T>* frames, std::size_t first) ARMWRIGHT_INLINE_LAMBDA {
      JacobianColumn<T> columns[max_joints];
      jacobian_columns(model, frames, columns);
      store_run(gram_volume<0, 6>(columns, model.joint_count), &work.manipulability[first]);
    });
  });
}

void ask(const PostureSearch& search, ReachWork& work) {
  work.clear.resize(work.which.size());
  clear_rows(search, work.plain, work.rows, work.which, work.margins, work.clear);
}

// The postures whose clearance may change an answer, as far as is known yet: of each question that is not served the first, and of each
// position those with the greatest limit margin and manipulability, if greater than those of a clear one.
void pick_needed(ReachWork& work) {
  constexpr std::uint32_t none = ~std::uint32_t{0};
  const PostureRows& rows = work.rows;
  work.which.clear();
  for (std::size_t k = 0; k < rows.asked.size();) {
    const std::uint32_t position = rows.asked[k].position;
    double margin = work.best[position].limit_margin, manipulability = work.best[position].manipulability;
    std::uint32_t freest = none, nimblest = none;
    const std::size_t picked = work.which.size();
    for (; k < rows.asked.size() && rows.asked[k].position == position; ++k) {
      bool open = !work.served[k];
      for (std::uint32_t i = rows.first[k]; i < rows.first[k + 1]; ++i) {
        const std::uint32_t row = rows.order[i];
        if (work.told[row] != Told::unknown) continue;
        if (open) work.which.push_back(row), open = false;
        if (rows.limit_margin[row] > margin) margin = rows.limit_margin[row], freest = row;
        if (work.manipulability[row] > manipulability) manipulability = work.manipulability[row], nimblest = row;
      }
    }
    for (const std::uint32_t row : {freest, nimblest})
      if (row != none && std::find(work.which.begin() + static_cast<std::ptrdiff_t>(picked), work.which.end(), row) == work.which.end()) work.which.push_back(row);
  }
}

// Takes from the postures of some questions what is better than the best so far of their positions; tells which are served.
void take_better(const PostureSearch& search, ReachWork& work) {
  const PostureRows& rows = work.rows;
  work.served.assign(rows.asked.size(), 0);
  work.told.assign(rows.count, Told::unknown);
  measure(*search.model, work);
  for (pick_needed(work); !work.which.empty(); pick_needed(work)) {
    work.margins.assign(work.which.size(), search.margin);
    ask(search, work);
    for (std::size_t i = 0; i < work.which.size(); ++i) {
      const std::uint32_t row = work.which[i];
      work.told[row] = work.clear[i] ? Told::clear : Told::blocked;
      if (!work.clear[i]) continue;
      work.served[rows.of[row]] = 1;
      Best& best = work.best[work.position_of(row)];
      best.limit_margin = std::max(best.limit_margin, rows.limit_margin[row]);
      best.manipulability = std::max(best.manipulability, work.manipulability[row]);
    }
  }
}

// Of the positions in hand the clearances of postures that are clear: first of one of each whose clearance is not known at all, then of
// those that are clear by more than the greatest that is known.
void take_clearest(const PostureSearch& search, ReachWork& work) {
  const PostureRows& rows = work.rows;
  work.which.clear();
  for (std::size_t i = 0, known = positions_at_once; i < rows.count; ++i) {
    const std::uint32_t row = rows.order[i], position = work.position_of(row);
    if (work.told[row] != Told::clear || work.clearance[position] > -infinite || position == known) continue;
    work.which.push_back(row), work.told[row] = Told::blocked;  // not to be asked again
    known = position;
  }
  clearest_of(search, work.plain, work.which, work.rows, work.clearance);
  work.which.clear(), work.margins.clear();
  for (std::size_t i = 0; i < rows.count; ++i) {
    const std::uint32_t row = rows.order[i];
    if (work.told[row] == Told::blocked) continue;
    work.which.push_back(row), work.margins.push_back(std::max(search.margin, work.clearance[work.position_of(row)]));
  }
  ask(search, work);
  std::size_t kept = 0;
  for (std::size_t i = 0; i < work.which.size(); ++i)
    if (work.clear[i]) work.which[kept++] = work.which[i];
  work.which.resize(kept);
  clearest_of(search, work.plain, work.which, work.rows, work.clearance);
}

// The track interval of one position: first over the samples, then each end drawn out between the last sample that
// serves and the next that does not, over all attitudes that are served at that last sample.
class TrackInterval {
 public:
  TrackInterval(const PostureSearch& search, PostureWork& work, const Vec3& position, const std::vector<Rotation>& attitudes)
      : search_(search), work_(work), position_(position), attitudes_(attitudes) {}

  void add(std::size_t attitude, const std::vector<double>& held) {
    const double at = held[0];
    if (at <= lower_) first_.resize(at < lower_ ? 0 : first_.size()), first_.push_back({attitude, held}), lower_ = at;
    if (at >= upper_) last_.resize(at > upper_ ? 0 : last_.size()), last_.push_back({attitude, held}), upper_ = at;
  }

  double lower() { return drawn_out(first_, lower_, step_down()); }
  double upper() { return drawn_out(last_, upper_, -step_down()); }

 private:
  struct Served {
    std::size_t attitude;
    std::vector<double> held;
  };

  // Distance between neighbouring track samples, towards the lower end.
  double step_down() const {
    const Model& model = *search_.model;
    double step = model.upper[0] - model.lower[0];
    for (const auto& sample : search_.samples)
      if (sample.held[0] > model.lower[0]) step = std::min(step, sample.held[0] - model.lower[0]);
    return -step;
  }

  bool served(const Served& at, double track) {
    auto values = at.held;
    values[0] = track;
    return visit_postures_at(search_, work_, {attitudes_[at.attitude], position_}, hold(*search_.inverse, values), [](const Posture&) { return true; });
  }

  double drawn_out(const std::vector<Served>& candidates, double end, double step) {
    const Model& model = *search_.model;
    const double limit = std::clamp(end + step, model.lower[0], model.upper[0]);
    double best = end;
    for (const Served& candidate : candidates) {
      double good = best, bad = limit;
      if (std::fabs(bad - good) <= track_end_tolerance) break;
      if (best != end && !served(candidate, best + std::copysign(track_end_tolerance, step))) continue;
      while (std::fabs(bad - good) > track_end_tolerance) {
        const double middle = 0.5 * (good + bad);
        (served(candidate, middle) ? good : bad) = middle;
      }
      best = step < 0 ? std::min(best, good) : std::max(best, good);
    }
    return best;
  }

  const PostureSearch& search_;
  PostureWork& work_;
  Vec3 position_;
  const std::vector<Rotation>& attitudes_;
  double lower_ = infinite, upper_ = -infinite;
  std::vector<Served> first_, last_;
};

// Positions from `first` on.
void map_positions(const PostureSearch& search, ReachWork& work, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes,
                   std::size_t first, const StopSign& stop, ReachMap& map) {
  work.best.fill({}), work.clearance.fill(-infinite);
  std::vector<TrackInterval> intervals;
  for (std::size_t p = 0; search.samples_track && p < positions.size(); ++p) intervals.emplace_back(search, work.plain, positions[p], attitudes);
  const std::vector<HeldRow>& asked = work.rows.asked;
  const bool done = for_postures_found(search, work.plain, positions, attitudes, stop, work.rows, [&] {
    take_better(search, work);
    if (search.scene) take_clearest(search, work);
    for (std::size_t k = 0; k < asked.size(); ++k) {
      if (!work.served[k]) continue;
      Best& best = work.best[asked[k].position];
      best.reached += best.reached == 0 || asked[k].attitude != best.last;
      best.last = asked[k].attitude;
      if (search.samples_track) intervals[asked[k].position].add(best.last, asked[k].arm->held);
    }
  });
  if (!done) return;
  for (std::size_t p = 0; p < positions.size(); ++p) {
    const Best& best = work.best[p];
    map.attitudes_reached[first + p] = best.reached;
    if (best.reached == 0) continue;
    map.limit_margin[first + p] = best.limit_margin;
    map.manipulability[first + p] = best.manipulability;
    map.clearance[first + p] = search.scene ? work.clearance[p] : infinite;
    if (!search.samples_track) continue;
    if (stop.raised()) return;
    map.track_lower[first + p] = intervals[p].lower();
    map.track_upper[first + p] = intervals[p].upper();
  }
}

}  // namespace

ReachMap reach_map(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, unsigned threads,
                   const Progress& progress) {
  const std::size_t size = positions.size();
  ReachMap map;
  map.attitudes_reached.assign(size, -1);
  map.limit_margin.assign(size, nothing);
  map.manipulability = map.clearance = map.track_lower = map.track_upper = map.limit_margin;
  map.complete = for_positions_together<ReachWork>(search, positions, attitudes, true, threads, progress, [&](ReachWork& work, std::span<const Vec3> here, std::size_t first, const StopSign& stop) {
    map_positions(search, work, here, attitudes, first, stop, map);
  });
  return map;
}

}  // namespace armwright
