#include "armwright/studies/track/lookout.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/clearance/along.hpp"
#include "armwright/clearance/postures.hpp"
#include "armwright/clearance/scene_data.hpp"
#include "armwright/kinematics/attitudes.hpp"
#include "armwright/kinematics/inverse/spun_arm.hpp"
#include "armwright/limits/payload_of.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright::track {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double near_limit = 0.5;  // rad, m: a posture farther past a limit than this is not looked at more closely

using Way = std::array<double, 3 + max_joints>;  // two tilts, a spin and the joints beyond what a pose needs: those that count first

// Unit vectors of so many numbers, spread all ways; other ones for every round. One number: both ways. Up to three: evenly
// over the circle or sphere. More: the additive sequence of the golden ratio's kin (x^(d+1) = x + 1), through the normal
// distribution's stand-in of three added, so that no direction is left out for long.
std::vector<Way> ways(std::size_t numbers, int round) {
  if (numbers == 0) return {};
  if (numbers == 1) return {{-1}, {1}};
  std::vector<Way> found;
  if (numbers <= 3) {
    const Rotation turned = turn_about({0, 0, 1}, 2.4 * round) * (turn_about({1, 0, 0}, 0.9 * round) * turn_about({0, 0, 1}, 1.7 * round));
    for (const Vec3& even : spread_directions(32)) {
      const Vec3 way = turned * even;
      if (numbers == 3) found.push_back({way.x, way.y, way.z});
      else if (const double flat = std::hypot(way.x, way.y); flat > 1e-9) found.push_back({way.x / flat, way.y / flat});
    }
    return found;
  }
  const std::size_t drawn = 3 * numbers;
  double root = 1.5;
  for (int i = 0; i < 60; ++i) root = std::pow(1 + root, 1 / static_cast<double>(drawn + 1));
  const std::size_t count = 32 * (numbers - 2);
  for (std::size_t k = 0; k < count; ++k) {
    Way way{};
    double size = 0, share = 1;
    for (std::size_t j = 0; j < drawn; ++j) {
      share /= root;
      const double drawn_number = (static_cast<double>(round) * static_cast<double>(count) + static_cast<double>(k) + 1) * share + 0.5;
      way[j % numbers] += drawn_number - std::floor(drawn_number) - 0.5;
    }
    for (const double number : way) size += number * number;
    if (!(size > 0)) continue;
    for (double& number : way) number /= std::sqrt(size);
    found.push_back(way);
  }
  return found;
}

}  // namespace

Lookout::Lookout(const Setting& setting, const TargetSpec& target)
    : setting_(setting), model_(*setting.model), target_(target), centre_(model_.tool * target.load_centre),
      work_(setting.spare ? make_workspace(*setting.spare) : nullptr) {}

std::vector<Choice> Lookout::choices(double step) const {
  std::vector<Choice> found;
  // Where few spins can be reached each position of the track has its own: they are solved for there.
  const std::vector<double> spins = target_.free_spin && !setting_.spun ? spread_spins(step) : std::vector<double>{0};
  const std::vector<Vec3> directions = cone_directions(target_.pose.rotation.z, target_.tilt, step);
  for (const std::vector<double>& values : setting_.values)  // outermost: arm_of() makes one arm for all of the same
    for (const Vec3& direction : directions)
      for (const double spin : spins) {
        found.push_back({direction, spin, {}});
        std::copy(values.begin(), values.end(), found.back().held.begin());
      }
  return found;
}

std::vector<Choice> Lookout::neighbours(const Choice& centre, double angle, int round) const {
  const std::size_t tilts = target_.tilt > 0 ? 2 : 0, spins = target_.free_spin && !setting_.spun ? 1 : 0;
  const Rotation frame = frame_on(centre.direction);
  const Vec3& middle = target_.pose.rotation.z;
  std::vector<Choice> found;
  for (const Way& way : ways(tilts + spins + setting_.beyond.size(), round)) {
    Choice choice = centre;
    if (tilts > 0) {
      choice.direction = turn_about(frame.x, angle * way[0]) * (turn_about(frame.y, angle * way[1]) * centre.direction);
      if (std::acos(std::clamp(dot(choice.direction, middle), -1.0, 1.0)) > target_.tilt) {  // onto the rim of the cone
        const Vec3 axis = cross(middle, choice.direction);
        if (!(norm(axis) > 0)) continue;
        choice.direction = turn_about((1 / norm(axis)) * axis, target_.tilt) * middle;
      }
    }
    if (spins > 0) choice.spin += angle * way[tilts];
    for (std::size_t k = 0; k < setting_.beyond.size(); ++k) {
      const std::size_t joint = setting_.beyond[k];
      choice.held[k] = std::clamp(centre.held[k] + angle * way[tilts + spins + k], model_.lower[joint], model_.upper[joint]);
    }
    found.push_back(choice);
  }
  return found;
}

Pose Lookout::pose_of(const Choice& choice, double spin) const {
  return {tilted_to(target_.pose.rotation, choice.direction) * turn_about({0, 0, 1}, spin), target_.pose.position};
}

void Lookout::look(const Choice& choice, double at, Sample& out) {
  out.at = at, out.count = 0, out.served = false;
  if (norm(target_.pose.position - arm_root(model_, at)) > setting_.reach) return;
  const HeldArm& arm = arm_of(choice, at);
  if (target_.free_spin && setting_.spun) {
    for (const double spin : exact_spins(*setting_.spun, arm.held, pose_of(choice, 0))) add_stands(arm, pose_of(choice, spin), out);
  } else {
    add_stands(arm, pose_of(choice, choice.spin), out);
  }
}

const HeldArm& Lookout::arm_of(const Choice& choice, double at) {
  const auto same = [&] { return std::equal(held_.begin() + 1, held_.end(), choice.held.begin()); };
  if (held_.empty() || !same()) {
    held_.assign(1 + setting_.beyond.size(), 0.0);
    std::copy_n(choice.held.begin(), setting_.beyond.size(), held_.begin() + 1);
    arm_ = placed_ = hold(*setting_.inverse, held_);
  }
  placed_.held.front() = at;
  placed_.base.position = arm_.base.position + at * setting_.along;
  return placed_;
}

bool Lookout::serves(const Choice& choice, double at) {
  look(choice, at, scratch_);
  return scratch_.served;
}

std::vector<double> Lookout::single_positions(const Choice& choice) {
  std::vector<double> found;
  if (!setting_.sliding) return found;
  solve_arm(*setting_.sliding, setting_.sliding->usual, pose_of(choice, choice.spin), solutions_);
  for (int i = 0; i < solutions_.count; ++i) {
    Stand stand;
    stand.q = solutions_.solution[static_cast<std::size_t>(i)].q;
    judge(stand);
    if (stand.served) found.push_back(stand.q[0]);
  }
  return found;
}

double Lookout::spare(const Choice& choice, double at) {
  look(choice, at, scratch_);
  double most = -infinity;
  for (int i = 0; i < scratch_.count; ++i) {
    const Stand& stand = scratch_.stand[static_cast<std::size_t>(i)];
    most = std::max(most, stand.served ? std::max(0.0, std::min({stand.limit, stand.spare, stand.torque})) : std::min({stand.limit, stand.spare, stand.torque}));
  }
  return most;
}

void Lookout::add_stands(const HeldArm& arm, const Pose& pose, Sample& out) {
  solve_arm(*setting_.inverse, arm, pose, solutions_);
  for (int i = 0; i < solutions_.count && out.count < max_solutions; ++i) {
    Stand& stand = out.stand[static_cast<std::size_t>(out.count++)];
    stand = {};
    stand.q = solutions_.solution[static_cast<std::size_t>(i)].q;
    judge(stand);
    out.served = out.served || stand.served;
  }
}

void Lookout::judge(Stand& stand) {
  stand.limit = to_nearest_limit(model_, stand.q.data());
  if (stand.limit < -near_limit) return;
  std::array<Pose, max_joints> frames;
  joint_frames(model_, stand.q.data(), frames.data());
  stand.spare = infinity;
  if (setting_.spare) {
    stand.spare = least_distance(*setting_.spare, frames.data(), *work_, infinity).distance;
    stand.reach = reach_about(*setting_.spare, model_, frames.data());
  }
  std::array<double, max_joints> own{}, per_kilogram{};
  holding_torques(model_, centre_, frames.data(), own.data(), per_kilogram.data());
  const StaticPayload payload = payload_of(model_, setting_.request.limit, own.data(), per_kilogram.data());
  stand.torque = torque_left(own.data(), per_kilogram.data());
  stand.roominess = limit_margin(model_, stand.q.data());
  stand.served = stand.roominess >= 0 && stand.spare >= -just_kept && payload.holds_itself && payload.mass >= target_.mass;
}

double Lookout::torque_left(const double* own, const double* per_kilogram) const {
  const auto& limits = setting_.request.limit == Limit::continuous ? model_.torque_continuous : model_.torque_peak;
  double left = 1;
  for (std::size_t i = 0; i < model_.joint_count; ++i) {
    if (!std::isfinite(limits[i])) continue;
    const double most = std::max(std::fabs(own[i]), std::fabs(own[i] + target_.mass * per_kilogram[i]));
    left = std::min(left, limits[i] > 0 ? 1 - most / limits[i] : (most > 0 ? -1.0 : 1.0));
  }
  return left;
}

}  // namespace armwright::track
