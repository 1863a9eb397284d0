#include "armwright/studies/reach.hpp"

#include <limits>

#include "armwright/kinematics/jacobian_columns.hpp"

namespace armwright {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr std::size_t positions_a_piece = 8;

struct Best {
  double limit_margin = -infinite, manipulability = -infinite, clearance = -infinite;
};

double manipulability(const Model& model, const Posture& posture) {
  std::array<JacobianColumn<double>, max_joints> columns;
  jacobian_columns(model, posture.frames, columns.data());
  return gram_volume<0, 6>(columns.data(), model.joint_count);
}

// Takes from a posture what is better than the best so far, if the posture is clear. Returns whether it is found clear:
// asked only while `wanted`, or where the answer matters.
bool take_better(const PostureSearch& search, PostureWork& work, const Posture& posture, bool wanted, Best& best) {
  const double volume = manipulability(*search.model, posture);
  const bool better = posture.limit_margin > best.limit_margin || volume > best.manipulability;
  // One question serves both where only a clearer posture would count.
  const double least = wanted || better ? search.margin : std::max(search.margin, best.clearance);
  if (!is_clear(search, work, posture, least)) return false;
  best.limit_margin = std::max(best.limit_margin, posture.limit_margin);
  best.manipulability = std::max(best.manipulability, volume);
  if (!search.scene) return true;
  // Only a posture that is clearer than the best so far is worth the exact distance.
  if (best.clearance > least && !is_clear(search, work, posture, best.clearance)) return true;
  best.clearance = std::max(best.clearance, least_distance(*search.scene, posture.frames, *work.clearance, infinite).distance);
  return true;
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

void map_position(const PostureSearch& search, PostureWork& work, const Vec3& position, const std::vector<Rotation>& attitudes,
                  std::size_t index, const StopSign& stop, ReachMap& map) {
  Best best;
  TrackInterval interval(search, work, position, attitudes);
  std::int32_t reached = 0;
  for (std::size_t a = 0; a < attitudes.size(); ++a) {
    if (stop.raised()) return;
    bool served = false;
    any_held(search, {attitudes[a], position}, [&](const HeldArm& held) {
      bool here = false;
      visit_within_limits(search, work, {attitudes[a], position}, held, [&](const Posture& posture) {
        const bool clear = take_better(search, work, posture, !here, best);
        here = here || clear;
        return false;
      });
      served = served || here;
      if (here && search.samples_track) interval.add(a, held.held);
      return false;
    });
    reached += served;
  }
  map.attitudes_reached[index] = reached;
  if (reached == 0) return;
  map.limit_margin[index] = best.limit_margin;
  map.manipulability[index] = best.manipulability;
  map.clearance[index] = search.scene ? best.clearance : infinite;
  if (!search.samples_track) return;
  map.track_lower[index] = interval.lower();
  map.track_upper[index] = interval.upper();
}

}  // namespace

ReachMap reach_map(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, unsigned threads,
                   const Progress& progress) {
  const std::size_t size = positions.size();
  ReachMap map;
  map.attitudes_reached.assign(size, -1);
  map.limit_margin.assign(size, nothing);
  map.manipulability = map.clearance = map.track_lower = map.track_upper = map.limit_margin;
  const std::size_t pieces = (size + positions_a_piece - 1) / positions_a_piece;
  auto work = make_posture_work(search, worker_count(pieces, threads));
  map.complete = for_each_piece(pieces, threads, progress, [&](std::size_t piece, std::size_t worker, const StopSign& stop) {
    for (std::size_t index = piece * positions_a_piece; index < std::min(size, (piece + 1) * positions_a_piece); ++index)
      map_position(search, work[worker], positions[index], attitudes, index, stop, map);
  });
  return map;
}

}  // namespace armwright
