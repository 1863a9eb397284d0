#include "armwright/studies/placement.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/clearance/work_point.hpp"
#include "armwright/kinematics/attitudes.hpp"
#include "armwright/limits/payload_of.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr std::size_t places_a_piece = 4;

// How far from being served a posture is, by the first thing that it lacks.
constexpr double lacks_hold = 0, lacks_room = 1, lacks_range = 2, lacks_reach = 3;
double degree(double past) { return std::min(1.0, past); }

/// Scratch of one thread: the surroundings as seen from the stand.
struct Work {
  Model model;  // its gravity turns; its track, if the arm is parked, has no way
  std::vector<std::shared_ptr<Scene>> scenes;
  std::vector<std::shared_ptr<ClearanceWorkspace>> clearance;
  ArmSolutions solutions;
  std::array<Pose, max_joints> frames;
};

// The poses of one work point that are tried, in the world; its spins left out where an arm reaches few, which are found exactly.
std::vector<Pose> tried_poses(const TargetSpec& target, bool exact_spin, double step) {
  const std::vector<double> spins = target.free_spin && !exact_spin ? spread_spins(step) : std::vector<double>{0};
  std::vector<Pose> poses;
  for (const Vec3& direction : cone_directions(target.pose.rotation.z, target.tilt, step))
    for (const double spin : spins)
      poses.push_back(chosen_pose(target, direction, spin));
  return poses;
}

/// One work point from one place.
class PointScore {
 public:
  PointScore(const PlaceSetup& setup, Work& work, std::size_t target)
      : setup_(setup), target_(setup.targets[target]), which_(setup.scene_of[target]), work_(work), centre_(work.model.tool * target_.load_centre) {}

  bool served = false;
  double lacking = lacks_reach + 1;
  std::array<Measures, measure_count> best{};  // by each measure

  // A pose, seen from the stand, with the joints beyond what it needs held so.
  void consider(const Pose& pose, const HeldArm& arm) {
    if (target_.free_spin && setup_.spun) {
      for (const double spin : exact_spins(*setup_.spun, arm.held, pose)) answers(arm, {pose.rotation * turn_about({0, 0, 1}, spin), pose.position});
    } else {
      answers(arm, pose);
    }
  }

 private:
  void answers(const HeldArm& arm, const Pose& pose) {
    if (is_beyond_reach(setup_.search, pose.position, arm)) {
      const double away = norm(pose.position - arm_root(work_.model, setup_.search.samples_track ? arm.held[0] : 0));
      lacking = std::min(lacking, lacks_reach + degree((away - setup_.search.reach) / setup_.search.reach));
      return;
    }
    solve_arm(*setup_.search.inverse, arm, pose, work_.solutions);
    for (int i = 0; i < work_.solutions.count; ++i) judge(work_.solutions.solution[static_cast<std::size_t>(i)].q.data());
  }

  bool wanted(Measure m) const { return setup_.request.wanted[static_cast<std::size_t>(m)]; }

  void judge(const double* q) {
    const double margin = limit_margin(work_.model, q);
    if (margin < 0) return lack(lacks_range + degree(-margin));
    const bool only_limits = !wanted(Measure::clearance) && !wanted(Measure::payload);
    if (served && only_limits && margin <= best[0][0]) return;
    joint_frames(work_.model, q, work_.frames.data());
    const StaticPayload payload = posture_payload(work_.model, work_.frames.data(), centre_, setup_.request.limit);
    if (!payload.holds_itself || payload.mass < target_.mass) return lack(lacks_hold + degree(target_.mass > 0 ? 1 - payload.mass / target_.mass : 1));
    const Scene& scene = *work_.scenes[which_];
    double spare = none;
    if (wanted(Measure::clearance)) {
      spare = least_distance(scene, work_.frames.data(), *work_.clearance[which_], infinity).distance;
      if (spare < -just_kept) return lack(lacks_room + degree(-spare));
    } else if (!is_clear(scene, work_.frames.data(), *work_.clearance[which_], setup_.request.margin)) {
      return lack(lacks_room + 0.5);
    }
    take({margin, spare, payload.mass - target_.mass});
  }

  void lack(double by) { lacking = std::min(lacking, by); }

  void take(const Measures& measures) {
    for (std::size_t m = 0; m < measure_count; ++m)
      if (setup_.request.wanted[m] && (!served || measures[m] > best[m][m])) best[m] = measures;
    served = true;
    lacking = 0;
  }

  const PlaceSetup& setup_;
  const TargetSpec& target_;
  std::size_t which_;  // of the scenes
  Work& work_;
  Vec3 centre_;        // of the load, in the last joint frame
};

Work make_work(const PlaceSetup& setup) {
  Work work;
  work.model = *setup.model;
  for (const auto& scene : setup.scenes) {
    work.scenes.push_back(std::make_shared<Scene>(*scene));
    work.clearance.push_back(make_workspace(*scene));
  }
  return work;
}

/// What the places are scored with.
struct Manner {
  std::vector<std::vector<Pose>> poses;  // of each work point, in the world
  bool thorough;
};

PlaceScore score(const PlaceSetup& setup, const Manner& manner, const Place& place, Work& work, const StopSign& stop) {
  PlaceScore score;
  for (Measures& worst : score.worst) worst.fill(none);
  const Pose seen = inverse(place.shift);
  for (std::size_t s = 0; s < work.scenes.size(); ++s) move_surroundings(*work.scenes[s], *setup.scenes[s], seen);
  if (!stand_is_clear(*work.scenes.front(), setup.stand) || !stand_keeps_out(*work.scenes.front(), setup.zones, seen)) return score;
  work.model.gravity = seen.rotation * setup.model->gravity;
  if (setup.request.parked) work.model.lower[0] = work.model.upper[0] = place.track;  // so that the track's own range does not count
  std::vector<std::vector<HeldArm>> parked(1);
  for (std::vector<double> values : setup.others) {
    values.insert(values.begin(), place.track);
    parked.front().push_back(hold(*setup.search.inverse, values));
  }
  const auto& levels = setup.request.parked ? parked : setup.levels;
  score.served = 0;
  for (std::size_t i = 0; i < setup.targets.size() && !stop.raised(); ++i) {
    PointScore point(setup, work, i);
    for (std::size_t level = 0; level < levels.size() && (manner.thorough || !point.served); ++level)
      for (const Pose& told : manner.poses[i]) {
        const Pose pose = seen * told;
        for (const HeldArm& arm : levels[level]) point.consider(pose, arm);
        if (level == 0 && setup.search.tries_nearest && !setup.request.parked) point.consider(pose, held_nearest(setup.search, pose));
      }
    score.lacking += point.lacking;
    if (!point.served) continue;
    for (std::size_t m = 0; m < measure_count; ++m)
      for (std::size_t k = 0; k < measure_count; ++k) {
        double& worst = score.worst[m][k];
        if (setup.request.wanted[m] && setup.request.wanted[k]) worst = score.served == 0 ? point.best[m][k] : std::min(worst, point.best[m][k]);
      }
    ++score.served;
  }
  return score;
}

// Every fourth first, then the second of four, then the others; the last is always among the first.
std::vector<std::vector<HeldArm>> in_levels(const PostureSearch& search) {
  if (search.inverse->redundant.size() != 1) return {search.samples};
  std::vector<std::vector<HeldArm>> levels(3);
  for (std::size_t k = 0; k < search.samples.size(); ++k)
    levels[k % 4 == 0 || k + 1 == search.samples.size() ? 0 : k % 4 == 2 ? 1 : 2].push_back(search.samples[k]);
  return levels;
}

}  // namespace

PlaceSetup make_place_setup(const std::shared_ptr<const ArmInverse>& inverse, std::span<const std::shared_ptr<const Scene>> scenes,
                            std::span<const TargetSpec> targets, std::span<const ShapeSpec> zones,
                            std::span<const std::string> going_along, const PlaceRequest& request) {
  PlaceSetup setup;
  setup.request = request;
  setup.targets.assign(targets.begin(), targets.end());
  setup.search = make_search(inverse, nullptr, request.margin, request.slide_step, request.turn_step);
  if (request.parked) {
    setup.search.inverse = with_track_given(inverse);
    setup.search.samples_track = true;
    const auto& redundant = setup.search.inverse->redundant;
    setup.others = spread_values(inverse->model, {redundant.data() + 1, redundant.size() - 1}, request.slide_step, request.turn_step);
  }
  setup.levels = in_levels(setup.search);
  setup.spun = spun_arm(*setup.search.inverse);
  std::vector<const Scene*> known;
  for (const auto& scene : scenes) {
    const auto found = std::find(known.begin(), known.end(), scene.get());
    setup.scene_of.push_back(static_cast<std::size_t>(found - known.begin()));
    if (found != known.end()) continue;
    known.push_back(scene.get());
    const auto standing = with_stand(*scene, going_along);
    setup.scenes.push_back(request.wanted[static_cast<std::size_t>(Measure::clearance)] ? spare_scene(*standing, request.margin) : standing);
  }
  setup.stand = stand_pairs(*setup.scenes.front());
  for (const ShapeSpec& zone : zones) setup.zones.push_back({prepare_shape("zone '" + zone.name + "'", zone), -1, zone.pose, 0, 0, false});
  setup.model = setup.search.model;
  return setup;
}

std::vector<PlaceScore> score_places(const PlaceSetup& setup, std::span<const Place> places, double angle_step, bool thorough, unsigned threads,
                                     const Progress& progress) {
  std::vector<PlaceScore> scores(places.size());
  Manner manner{{}, thorough};
  for (const TargetSpec& target : setup.targets) manner.poses.push_back(tried_poses(target, setup.spun != nullptr, angle_step));
  const std::size_t pieces = (places.size() + places_a_piece - 1) / places_a_piece;
  std::vector<Work> work(worker_count(pieces, threads));
  std::generate(work.begin(), work.end(), [&] { return make_work(setup); });
  const bool complete = for_each_piece(pieces, threads, progress, [&](std::size_t piece, std::size_t worker, const StopSign& stop) {
    const std::size_t last = std::min(places.size(), (piece + 1) * places_a_piece);
    for (std::size_t i = piece * places_a_piece; i < last && !stop.raised(); ++i) scores[i] = score(setup, manner, places[i], work[worker], stop);
  });
  if (!complete) scores.clear();
  return scores;
}

}  // namespace armwright
