#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <memory>
#include <vector>

#include "armwright/clearance/scene.hpp"
#include "armwright/kinematics/chain.hpp"
#include "armwright/kinematics/forward.hpp"
#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/kinematics/joint_range.hpp"

namespace armwright {

/// One way to bring the tool to a pose.
struct Posture {
  const double* q;       ///< joint values, within the limits
  const Pose* frames;    ///< joint frames in the world
  double limit_margin;   ///< see limit_margin()
  std::int8_t free_joint;  ///< joint free to turn, or -1
};

/// Where a point that the tool carries can be for an arm of six turning joints whose base stands: no farther than `reach` from the circle
/// on which axis 1 carries axis 2. Of the points on the last axis the one that most axes meet in, the wrist centre where it is spherical.
struct WristBound {
  Vec3 in_tool{0, 0, 0};      ///< the point in the tool frame, m, known in any case
  Vec3 root{0, 0, 0}, axis{0, 0, 1};  ///< of axis 1, in the base frame of the solved joints
  double radius = 0, height = 0;      ///< of the circle, about axis 1 and along it from the root, m
  double reach = std::numeric_limits<double>::infinity();  ///< m; infinite: nothing is known
};

/// For the joints that `inverse` solves.
WristBound wrist_bound(const ArmInverse& inverse);

/// What a search for postures keeps to; constant, shared by threads.
struct PostureSearch {
  std::shared_ptr<const Model> model;
  std::shared_ptr<const ArmInverse> inverse;
  std::shared_ptr<const Scene> scene;     ///< null: clearance does not count
  double margin = 0;                      ///< clearance required, m
  std::vector<HeldArm> samples;           ///< the arm with its redundant joints at each value to be tried; just one if there are none
  bool samples_track = false;             ///< whether the first of them is the track's position
  bool tries_nearest = false;             ///< whether the track position nearest to each target is tried besides
  WristBound wrist;
  double reach = 0;                       ///< no tool point lies farther than this from the first arm axis' frame, m
};

/// A search with an inverse that stands, over its model. Spreads the redundant joints evenly over their ranges, both ends included, at most `slide_step` (m) or `turn_step`
/// (rad) apart; a joint without limits over a whole turn.
PostureSearch make_search(const std::shared_ptr<const ArmInverse>& inverse, std::shared_ptr<const Scene> scene, double margin, double slide_step, double turn_step);

/// Farthest that a tool point can be from the first arm axis' frame, m: the links stretched out in a row.
double longest_reach(const Model& model);

/// Every combination of values of some joints, spread evenly over their ranges as make_search() does.
std::vector<std::vector<double>> spread_values(const Model& model, std::span<const std::size_t> joints, double slide_step, double turn_step);

/// Scratch of one thread.
struct PostureWork {
  ArmSolutions solutions;
  std::array<Pose, 4 * max_joints> frames;
  std::shared_ptr<ClearanceWorkspace> clearance;
};

/// Scratch for that many threads.
std::vector<PostureWork> make_posture_work(const PostureSearch& search, std::size_t workers);

/// Where the frame of the first arm joint stands when the track is at `track`.
inline Vec3 arm_root(const Model& model, double track) {
  if (!model.has_track) return model.base.position;
  Pose frame = model.base;
  advance(model.step[0], track, frame);
  return frame * model.step[1].offset;
}

/// Whether a tool point is too far for the arm stretched out. With a track that is solved for, not sampled, never.
inline bool is_beyond_reach(const PostureSearch& search, const Vec3& position, const HeldArm& held) {
  if (search.model->has_track && !search.samples_track) return false;
  const Vec3 away = position - arm_root(*search.model, search.samples_track ? held.held[0] : 0);
  return dot(away, away) > search.reach * search.reach;
}

/// Whether the wrist is too far for the arm that is held so.
inline bool is_wrist_beyond(const PostureSearch& search, const Pose& target, const HeldArm& held) {
  const WristBound& wrist = search.wrist;
  if (wrist.reach == std::numeric_limits<double>::infinity()) return false;
  const Vec3 away = transpose_times(held.base.rotation, target * wrist.in_tool - held.base.position) - wrist.root;
  const double along = dot(away, wrist.axis), across = std::sqrt(std::max(0.0, dot(away, away) - along * along));
  const double off = across - wrist.radius, up = along - wrist.height;
  return off * off + up * up > wrist.reach * wrist.reach;
}

/// The arm with its track where the wrist centre of a target lies square to the first arm axis' frame. Near the end of
/// its reach an arm serves a target from a short stretch of the track only, which lies about there and may fall
/// between the samples.
inline HeldArm held_nearest(const PostureSearch& search, const Pose& target) {
  const Model& model = *search.model;
  const Vec3& along = model.base.rotation.z;
  const double at = dot(target * search.wrist.in_tool - arm_root(model, 0), along);
  const double value = std::clamp(at, model.lower[0], model.upper[0]);
  return hold(*search.inverse, {&value, 1});
}

/// Calls each(const HeldArm&) for all values of the redundant joints that are tried for a target, until it returns true;
/// so does this function then.
template <class Each>
bool any_held(const PostureSearch& search, const Pose& target, Each&& each) {
  for (const HeldArm& held : search.samples)
    if (each(held)) return true;
  return search.tries_nearest && each(held_nearest(search, target));
}

/// Whether the posture is clear by `margin`, m; always, where clearance does not count.
inline bool is_clear(const PostureSearch& search, PostureWork& work, const Posture& posture, double margin) {
  return !search.scene || is_clear(*search.scene, posture.frames, *work.clearance, margin);
}

/// Calls visit(const Posture&) for every posture with the redundant joints held so that reaches `target` (tool frame in
/// the world) and keeps the joint limits, clear or not. A visit that returns true ends the search; so does this
/// function's answer.
template <class Visit>
bool visit_within_limits(const PostureSearch& search, PostureWork& work, const Pose& target, const HeldArm& held, Visit&& visit) {
  const Model& model = *search.model;
  if (is_beyond_reach(search, target.position, held) || is_wrist_beyond(search, target, held)) return false;
  solve_arm(*search.inverse, held, target, work.solutions);
  std::array<Posture, max_solutions> kept;
  std::size_t count = 0;
  for (int i = 0; i < work.solutions.count; ++i) {
    const ArmSolution& solution = work.solutions.solution[static_cast<std::size_t>(i)];
    const double margin = limit_margin(model, solution.q.data());
    if (margin >= 0) kept[count++] = {solution.q.data(), nullptr, margin, solution.free_joint};
  }
  const std::size_t n = model.joint_count;
  for (std::size_t first = 0; first < count; first += 4) {
    double q[4 * max_joints];
    for (std::size_t k = 0; k < 4; ++k) std::copy_n(kept[std::min(first + k, count - 1)].q, n, q + k * n);
    joint_frames_of_four(model, q, work.frames.data());
    for (std::size_t k = 0; k < 4 && first + k < count; ++k) {
      Posture& posture = kept[first + k];
      posture.frames = work.frames.data() + k * n;
      if (visit(posture)) return true;
    }
  }
  return false;
}

/// The same for those that are clear by the margin.
template <class Visit>
bool visit_postures_at(const PostureSearch& search, PostureWork& work, const Pose& target, const HeldArm& held, Visit&& visit) {
  return visit_within_limits(search, work, target, held, [&](const Posture& posture) {
    return is_clear(search, work, posture, search.margin) && visit(posture);
  });
}

}  // namespace armwright
