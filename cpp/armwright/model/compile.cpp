#include "armwright/model/compile.hpp"

#include <cmath>

#include "armwright/model/check.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

struct Axis {
  Vec3 point, direction;  // in the world, all joints at zero
};

// Successive axes closer to parallel than this have no common normal worth computing; any direction square to both
// will do, since the remaining turn is then smaller than rounding.
constexpr double no_angle = 1e-15;
// Below this angle the common normal's foot may lie far away, where digits are lost; the joint's own origin serves.
constexpr double small_angle = 1e-3;

std::vector<JointSpec> moving_joints(const CellSpec& cell) {
  std::vector<JointSpec> joints = cell.arm.joints;
  if (!cell.track) {
    joints.front().placement = cell.mount * joints.front().placement;
    return joints;
  }
  const TrackSpec& track = *cell.track;
  joints.front().placement = cell.mount * joints.front().placement;
  JointSpec slide;
  slide.name = "track";
  slide.kind = JointKind::prismatic;
  slide.placement = track.pose;
  slide.axis = track.axis;
  slide.lower = track.lower;
  slide.upper = track.upper;
  slide.torque_continuous = track.force_continuous;
  slide.torque_peak = track.force_peak;
  joints.insert(joints.begin(), slide);
  return joints;
}

// A unit vector square to both axes; for parallel ones, the same choice each time.
Vec3 common_normal(const Vec3& a, const Vec3& b) {
  const Vec3 n = cross(a, b);
  const double length = norm(n);
  return length > no_angle ? (1 / length) * n : frame_on(a).x;
}

// Where on its axis a joint frame sits: at the foot of the common normal with the next axis, if that is well defined.
Vec3 frame_origin(const Axis& axis, const Axis& next) {
  const Vec3 n = cross(axis.direction, next.direction);
  const double square = dot(n, n);
  if (square < small_angle * small_angle) return axis.point;
  const double along = dot(cross(next.point - axis.point, next.direction), n) / square;
  return axis.point + along * axis.direction;
}

}  // namespace

std::vector<LinkSpec> moving_links(const CellSpec& cell) {
  std::vector<LinkSpec> links = cell.arm.links;
  if (cell.track) links.insert(links.begin(), cell.track->carriage);
  return links;
}

Model compile(const CellSpec& cell) {
  check_cell(cell);
  const auto joints = moving_joints(cell);
  const auto links = moving_links(cell);
  const std::size_t n = joints.size();

  Model model;
  model.joint_count = n;
  model.has_track = cell.track.has_value();
  model.gravity = cell.gravity;

  // The chain at zero, in the world.
  std::array<Pose, max_joints> X_WL{};
  std::array<Axis, max_joints> axes{};
  Pose parent = identity_pose;
  for (std::size_t i = 0; i < n; ++i) {
    X_WL[i] = parent = parent * joints[i].placement;
    axes[i] = {X_WL[i].position, X_WL[i].rotation * joints[i].axis};
  }

  // Joint frames: z along the axis, x square to this axis and the next, so that a step is Rx(alpha) and then Rz.
  std::array<Pose, max_joints> X_WF{};
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3 z = axes[i].direction;
    const Vec3 x = i + 1 < n ? common_normal(z, axes[i + 1].direction) : frame_on(z).x;
    X_WF[i] = {{x, cross(z, x), z}, i + 1 < n ? frame_origin(axes[i], axes[i + 1]) : axes[i].point};
  }
  // The first step turns about z only: its parent stands on the first axis already.
  model.base = {frame_on(axes[0].direction), X_WF[0].position};

  for (std::size_t i = 0; i < n; ++i) {
    const Pose& before = i == 0 ? model.base : X_WF[i - 1];
    const Vec3 z = transpose_times(before.rotation, axes[i].direction);   // (0, -sin alpha, cos alpha)
    JointStep& step = model.step[i];
    step.kind = joints[i].kind;
    step.offset = transpose_times(before.rotation, X_WF[i].position - before.position);
    const double length = std::hypot(z.y, z.z);
    step.cos_alpha = z.z / length;
    step.sin_alpha = -z.y / length;
    const Vec3 x = transpose_times(before.rotation, X_WF[i].rotation.x);  // (cos, sin cos_alpha, sin sin_alpha)
    step.zero = std::atan2(x.y * step.cos_alpha + x.z * step.sin_alpha, x.x);
    step.cos_zero = std::cos(step.zero);
    step.sin_zero = std::sin(step.zero);

    model.link_frame[i] = inverse(X_WF[i]) * X_WL[i];
    model.link[i] = model.link_frame[i] * links[i].inertia;
    model.lower[i] = joints[i].lower;
    model.upper[i] = joints[i].upper;
    model.torque_continuous[i] = joints[i].torque_continuous;
    model.torque_peak[i] = joints[i].torque_peak;
    model.joint_names.push_back(joints[i].name);
    model.link_names.push_back(links[i].name);
  }

  model.flange = model.link_frame[n - 1] * cell.arm.flange;
  model.tool = model.flange * cell.tool.tool_point;
  model.link[n - 1] = model.link[n - 1] + model.flange * cell.tool.inertia;
  if (cell.load) model.load = model.tool * cell.load->inertia;
  return model;
}

}  // namespace armwright
