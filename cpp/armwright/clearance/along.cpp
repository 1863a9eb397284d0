#include "armwright/clearance/along.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "armwright/clearance/scene_data.hpp"
#include "armwright/kinematics/chain.hpp"

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr int deepest = 48;  // halvings; rounding ends what is left there

using Control = std::array<double, piece_points * max_joints>;

// A posture of the path.
struct Stand {
  double value;                          // of what is asked for, m
  std::array<double, max_joints> reach;  // farthest distance of what a joint moves from its axis, m; 1 for one that slides
};

struct Walk {
  const Scene& scene;
  const Model& model;
  ClearanceWorkspace& scratch;
  double tolerance;
  const StopSign& stop;
  ClearanceAlong found{};
  std::size_t piece = 0;

  Stand stand_at(const double* q, double share) {
    std::array<Pose, max_joints> frames;
    joint_frames(model, q, frames.data());
    const Clearance here = least_distance(scene, frames.data(), scratch, infinity);
    if (here.distance < found.least) {
      found.least = here.distance;
      found.at = static_cast<double>(piece) + share;
      found.solid_a = here.solid_a, found.solid_b = here.solid_b;
    }
    return {here.distance, reach_about(scene, model, frames.data())};
  }

  double way_bound(const double* control, const Stand& a, const Stand& b) const {
    const std::size_t n = model.joint_count;
    double sum = 0, turn = 0;
    for (std::size_t j = 0; j < n; ++j) {
      double way = 0;
      for (std::size_t k = 1; k < piece_points; ++k) way += std::fabs(control[k * n + j] - control[(k - 1) * n + j]);
      sum += way * std::max(a.reach[j], b.reach[j]);
      if (model.step[j].kind == JointKind::revolute) turn += way;
    }
    // L = sum + turn · L / 2
    return turn < 1 ? sum / (1 - turn / 2) : infinity;
  }

  void between(const double* control, double from, double to, const Stand& a, const Stand& b, int depth) {
    const double bound = (a.value + b.value - way_bound(control, a, b)) / 2;
    if (bound >= found.least - tolerance || depth == deepest || stop.raised() || found.least == -infinity) {
      found.proven = std::min(found.proven, bound);
      return;
    }
    // de Casteljau at the middle.
    const std::size_t n = model.joint_count;
    Control work, left, right;
    std::copy_n(control, piece_points * n, work.data());
    for (std::size_t level = 0; level < piece_points; ++level) {
      const std::size_t last = piece_points - 1 - level;
      for (std::size_t j = 0; j < n; ++j) left[level * n + j] = work[j], right[last * n + j] = work[last * n + j];
      for (std::size_t k = 0; k < last; ++k)
        for (std::size_t j = 0; j < n; ++j) work[k * n + j] = 0.5 * (work[k * n + j] + work[(k + 1) * n + j]);
    }
    const double middle = 0.5 * (from + to);
    const Stand here = stand_at(right.data(), middle);
    between(left.data(), from, middle, a, here, depth + 1);
    between(right.data(), middle, to, here, b, depth + 1);
  }
};

}  // namespace

std::array<double, max_joints> reach_about(const Scene& scene, const Model& model, const Pose* frames) {
  std::array<double, max_joints> reach{};
  for (std::size_t joint = 0; joint < model.joint_count; ++joint)
    if (model.step[joint].kind != JointKind::revolute) reach[joint] = 1;
  for (std::size_t i = 0; i < scene.moving; ++i) {
    const auto carrier = static_cast<std::size_t>(scene.frame[i]);
    const Vec3 centre = frames[carrier] * scene.segment_centre[i];
    for (std::size_t joint = 0; joint <= carrier; ++joint) {
      if (model.step[joint].kind != JointKind::revolute) continue;
      const Vec3 from_axis = cross(centre - frames[joint].position, frames[joint].rotation.z);
      reach[joint] = std::max(reach[joint], norm(from_axis) + scene.segment_ball[i]);
    }
  }
  return reach;
}

ClearanceAlong least_along(const Scene& scene, const Model& model, std::span<const double> control, double tolerance, const StopSign& stop) {
  const std::size_t size = piece_points * model.joint_count, pieces = control.size() / size;
  const auto work = make_workspace(scene);
  Walk walk{scene, model, *work, tolerance, stop};
  std::vector<std::array<Stand, 2>> ends(pieces);
  for (std::size_t i = 0; i < pieces; ++i) {
    const double *first = &control[i * size], *last = first + size - model.joint_count;
    walk.piece = i;
    const bool joined = i > 0 && std::equal(first, first + model.joint_count, first - model.joint_count);
    ends[i][0] = joined ? ends[i - 1][1] : walk.stand_at(first, 0);
    ends[i][1] = walk.stand_at(last, 1);
    if (stop.raised()) return walk.found;
  }
  for (walk.piece = 0; walk.piece < pieces; ++walk.piece)
    walk.between(&control[walk.piece * size], 0, 1, ends[walk.piece][0], ends[walk.piece][1], 0);
  walk.found.proven = std::min(walk.found.proven, walk.found.least);
  return walk.found;
}

}  // namespace armwright
