#include "armwright/studies/targets.hpp"

#include <limits>

#include "armwright/clearance/work_point.hpp"
#include "armwright/kinematics/attitudes.hpp"
#include "armwright/kinematics/jacobian_columns.hpp"
#include "armwright/limits/payload_of.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

using Choice = WorkPointChoice;

class Check {
 public:
  Check(const PostureSearch& search, const ArmInverse* spun, const Scene* spare, PostureWork& work, const TargetSpec& target, const TargetRequest& request, const StopSign& stop)
      : search_(search), spare_(spare), model_(*search.model), work_(work), target_(target), point_{search, spun, target_}, request_(request), stop_(stop),
        centre_(model_.tool * target.load_centre) {}

  TargetAnswer run() {
    double step = request_.angle_step;
    for (int round = 0; round < 3 && answer_.outcome != Outcome::served; ++round, step *= 0.5) sweep(step);
    if (answer_.outcome != Outcome::served && target_.tolerance > 0) sweep_around();
    if (!answer_.has_posture) {
      measure_shortfall();
    } else {
      refine(step);
      if (answer_.outcome == Outcome::obstructed) find_obstacle();
    }
    return answer_;
  }

 private:
  void sweep(double step) {
    any_choice(point_, cone_directions(target_.pose.rotation.z, target_.tilt, step), step, [&](const Choice& choice) {
      consider(choice);
      return stop_.raised();
    });
  }

  // The exact point failed: points about it, half and all of the tolerance away, the nearer ones first.
  void sweep_around() {
    const Vec3 centre = target_.pose.position, inwards = nearest_root().way;
    std::vector<Vec3> directions{inwards, -inwards};  // what is just out of reach is reached that way, if at all
    for (const Vec3& direction : spread_directions(26)) directions.push_back(direction);
    for (const double share : {0.5, 1 - 1e-9})
      for (const Vec3& direction : directions) {
        target_.pose.position = centre + (share * target_.tolerance) * direction;
        sweep(request_.angle_step);
        if (answer_.outcome == Outcome::served) return;
      }
    target_.pose.position = centre;
  }

  // All postures of one choice; returns whether one of them became the best.
  bool consider(const Choice& choice) {
    if (stop_.raised() || is_beyond_reach(search_, target_.pose.position, choice.arm)) return false;
    ArmSolutions& solutions = work_.solutions;
    solve_arm(*search_.inverse, choice.arm, chosen_pose(target_, choice.direction, choice.spin), solutions);
    bool better = false;
    for (int i = 0; i < solutions.count; ++i) {
      const ArmSolution& solution = solutions.solution[static_cast<std::size_t>(i)];
      const TargetAnswer judged = judge(solution);
      served_ += judged.outcome == Outcome::served;
      if (answer_.has_posture && !beats(judged, answer_)) continue;
      answer_ = judged;
      best_choice_ = choice;
      better = true;
    }
    answer_.postures = served_;
    return better;
  }

  TargetAnswer judge(const ArmSolution& solution) {
    TargetAnswer found;
    found.has_posture = true;
    found.free_joint = solution.free_joint;
    std::copy(solution.q.begin(), solution.q.end(), found.q.begin());
    found.limit_margin = limit_margin(model_, found.q.data());
    if (found.limit_margin < 0) {
      found.outcome = Outcome::beyond_limits;
      const PastLimit past = farthest_past_limit(model_, found.q.data());
      found.limit_joint = past.joint;
      found.excess = past.by;
      if (answer_.has_posture && answer_.outcome > Outcome::beyond_limits) return found;
    }
    joint_frames(model_, found.q.data(), work_.frames.data());
    std::array<JacobianColumn<double>, max_joints> columns;
    jacobian_columns(model_, work_.frames.data(), columns.data());
    found.manipulability = gram_volume<0, 6>(columns.data(), model_.joint_count);
    found.payload = posture_payload(model_, work_.frames.data(), centre_, request_.limit);
    found.clearance = search_.scene ? least_distance(*search_.scene, work_.frames.data(), *work_.clearance, infinite) : Clearance{infinite, {0, 0, 0}, {0, 0, 0}, -1, -1};
    found.clearance_spare = spare_ ? least_distance(*spare_, work_.frames.data(), *work_.clearance, infinite).distance : infinite;
    if (found.limit_margin < 0) return found;
    if (search_.scene && !is_clear(*search_.scene, work_.frames.data(), *work_.clearance, search_.margin)) {
      found.outcome = Outcome::obstructed;
    } else if (!found.payload.holds_itself || found.payload.mass < target_.mass) {
      found.outcome = Outcome::overloaded;
    } else {
      found.outcome = Outcome::served;
    }
    return found;
  }

  void find_obstacle() {
    answer_.obstacle.clearance = answer_.clearance;
    if (answer_.clearance.distance <= 0) return;
    joint_frames(model_, answer_.q.data(), work_.frames.data());
    answer_.obstacle = worst_obstacle(*search_.scene, work_.frames.data(), search_.margin);
  }

  double merit(const TargetAnswer& answer, Merit which) const {
    switch (which) {
      case Merit::limit_margin: return answer.limit_margin;
      case Merit::clearance: return answer.clearance.distance;
      case Merit::payload: return answer.payload.mass;
      case Merit::manipulability: return answer.manipulability;
      case Merit::clearance_spare: return answer.clearance_spare;
    }
    return 0;
  }

  // About equal: 2 % of half a joint's range, 2 mm, 0.1 kg, 0.1 % of 1.
  static double coarse_step(Merit which) {
    switch (which) {
      case Merit::limit_margin: return 0.02;
      case Merit::clearance:
      case Merit::clearance_spare: return 0.002;
      case Merit::payload: return 0.1;
      case Merit::manipulability: return 0.001;
    }
    return 1;
  }

  bool beats(const TargetAnswer& a, const TargetAnswer& b) const {
    if (a.outcome != b.outcome) return a.outcome > b.outcome;
    switch (a.outcome) {
      case Outcome::beyond_limits: return a.excess < b.excess;
      case Outcome::obstructed: return a.clearance.distance > b.clearance.distance;
      case Outcome::overloaded: return a.payload.mass > b.payload.mass;
      default: break;
    }
    for (const Merit which : request_.order) {
      const double x = merit(a, which), y = merit(b, which), step = coarse_step(which);
      if (x == y) continue;
      const double coarse_x = std::floor(x / step), coarse_y = std::floor(y / step);
      if (coarse_x != coarse_y) return coarse_x > coarse_y;
    }
    return !request_.order.empty() && merit(a, request_.order.front()) > merit(b, request_.order.front());
  }

  // Pattern search about the best choice: each freedom a step up and down, steps halved when none helps.
  void refine(double angle) {
    double slide = search_.samples.size() > 1 ? std::fabs(search_.samples[1].held.back() - search_.samples[0].held.back()) : 0;
    for (int round = 0; round < 12; ++round) {
      bool better = false;
      const Choice centre = best_choice_;
      for (const double sign : {-1.0, 1.0}) {
        if (target_.free_spin) better |= consider({centre.direction, centre.spin + sign * angle, centre.arm});
        if (target_.tilt > 0) better |= consider_tilted(centre, sign * angle);
        for (std::size_t r = 0; r < centre.arm.held.size(); ++r) better |= consider_slid(centre, r, sign * slide);
      }
      if (better) continue;
      angle *= 0.5;
      slide *= 0.5;
    }
  }

  bool consider_tilted(const Choice& centre, double angle) {
    const Rotation frame = frame_on(centre.direction);
    bool better = false;
    for (const Vec3& axis : {frame.x, frame.y}) {
      const Vec3 direction = turn_about(axis, angle) * centre.direction;
      if (std::acos(std::clamp(dot(direction, target_.pose.rotation.z), -1.0, 1.0)) <= target_.tilt)
        better |= consider({direction, centre.spin, centre.arm});
    }
    return better;
  }

  bool consider_slid(const Choice& centre, std::size_t which, double by) {
    auto values = centre.arm.held;
    const std::size_t joint = search_.inverse->redundant[which];
    values[which] = std::clamp(values[which] + by, model_.lower[joint], model_.upper[joint]);
    return consider({centre.direction, centre.spin, hold(*search_.inverse, values)});
  }

  bool solvable(const Vec3& position, double step) {
    TargetSpec moved = target_;
    moved.pose.position = position;
    const WorkPoint point{search_, point_.spun, moved};
    return any_choice(point, cone_directions(target_.pose.rotation.z, target_.tilt, step), step, [&](const Choice& choice) {
      if (stop_.raised() || is_beyond_reach(search_, position, choice.arm)) return false;
      solve_arm(*search_.inverse, choice.arm, chosen_pose(moved, choice.direction, choice.spin), work_.solutions);
      return work_.solutions.count > 0;
    });
  }

  // How far the point must move, straight towards the arm or straight away from it, to be reached.
  void measure_shortfall() {
    const Vec3 p = target_.pose.position;
    const auto [distance, inwards] = nearest_root();
    const double in = first_solvable(p, inwards, distance), out = first_solvable(p, -inwards, 2 * search_.reach);
    answer_.too_near = out < in;
    answer_.shortfall = std::min(in, out);
  }

  struct Way {
    double distance;
    Vec3 way;
  };

  // From the work point to the arm, where its track brings it nearest.
  Way nearest_root() const {
    const Vec3 p = target_.pose.position;
    double at = 0;
    if (search_.samples_track) at = std::clamp(dot(p - arm_root(model_, 0), model_.base.rotation.z), model_.lower[0], model_.upper[0]);
    const Vec3 root = arm_root(model_, at);
    const double distance = norm(root - p);
    return {distance, distance > 0 ? (1 / distance) * (root - p) : Vec3{0, 0, -1}};
  }

  double first_solvable(const Vec3& from, const Vec3& direction, double farthest) {
    constexpr int steps = 100;
    for (int k = 1; k <= steps; ++k) {
      double good = farthest * k / steps, bad = farthest * (k - 1) / steps;
      if (!solvable(from + good * direction, request_.angle_step)) continue;
      while (good - bad > 1e-6) {
        const double middle = 0.5 * (good + bad);
        (solvable(from + middle * direction, request_.angle_step) ? good : bad) = middle;
      }
      return good;
    }
    return infinite;
  }

  const PostureSearch& search_;
  const Scene* spare_;  // see spare_scene(); null where the order does not ask for it
  const Model& model_;
  PostureWork& work_;
  TargetSpec target_;  // its position moves within the tolerance
  WorkPoint point_;    // of target_
  const TargetRequest& request_;
  const StopSign& stop_;
  Vec3 centre_;  // of the load, in the last joint frame
  TargetAnswer answer_;
  Choice best_choice_;
  std::size_t served_ = 0;
};

}  // namespace

std::vector<TargetAnswer> check_targets(const PostureSearch& search, std::span<const TargetSpec> targets, const TargetRequest& request,
                                        unsigned threads, const Progress& progress) {
  std::vector<TargetAnswer> answers(targets.size());
  auto work = make_posture_work(search, worker_count(targets.size(), threads));
  const auto spun = spun_arm(*search.inverse);
  const bool asks_spare = std::find(request.order.begin(), request.order.end(), Merit::clearance_spare) != request.order.end();
  const auto spare = search.scene && asks_spare ? spare_scene(*search.scene, search.margin) : nullptr;
  const bool complete = for_each_piece(targets.size(), threads, progress, [&](std::size_t piece, std::size_t worker, const StopSign& stop) {
    answers[piece] = Check(search, spun.get(), spare.get(), work[worker], targets[piece], request, stop).run();
  });
  if (!complete) answers.clear();  // a point not looked at must not pass for one out of reach
  return answers;
}

}  // namespace armwright
