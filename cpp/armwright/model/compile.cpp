#include "armwright/model/compile.hpp"

#include "armwright/model/chain_steps.hpp"
#include "armwright/model/check.hpp"
#include "armwright/model/compile_drives.hpp"

namespace armwright {

namespace {

std::vector<JointSpec> moving_joints(const CellSpec& cell) {
  std::vector<JointSpec> joints = cell.arm.joints;
  joints.front().placement = cell.mount * joints.front().placement;
  if (!cell.track) return joints;
  const TrackSpec& track = *cell.track;
  JointSpec slide;
  slide.name = "track";
  slide.kind = JointKind::prismatic;
  slide.placement = track.pose;
  slide.axis = track.axis;
  slide.lower = track.lower;
  slide.upper = track.upper;
  slide.torque_continuous = track.force_continuous;
  slide.torque_peak = track.force_peak;
  slide.speed = track.speed;
  slide.acceleration = track.acceleration;
  slide.jerk = track.jerk;
  slide.drive = track.drive;
  joints.insert(joints.begin(), slide);
  return joints;
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
  std::array<JointAxis, max_joints> axes{};
  Pose parent = identity_pose;
  for (std::size_t i = 0; i < n; ++i) {
    X_WL[i] = parent = parent * joints[i].placement;
    axes[i] = {X_WL[i].position, X_WL[i].rotation * joints[i].axis, joints[i].kind};
  }
  const ChainSteps chain = steps_along({axes.data(), n});
  model.base = chain.base;
  model.step = chain.step;

  for (std::size_t i = 0; i < n; ++i) {
    model.link_frame[i] = inverse(chain.frame[i]) * X_WL[i];
    model.told_frame[i] = model.link_frame[i] * links[i].told_frame;
    model.link[i] = model.link_frame[i] * links[i].inertia;
    model.lower[i] = joints[i].lower;
    model.upper[i] = joints[i].upper;
    model.speed[i] = joints[i].speed;
    model.acceleration[i] = joints[i].acceleration;
    model.jerk[i] = joints[i].jerk;
    model.joint_names.push_back(joints[i].name);
    model.link_names.push_back(links[i].name);
  }

  model.base_link = cell.arm.base_link.inertia;
  model.mount = cell.track ? model.link_frame[0] * cell.mount : cell.mount;
  if (cell.track) model.link[0] = model.link[0] + model.mount * model.base_link;  // it rides along

  model.flange = model.link_frame[n - 1] * cell.arm.flange;
  model.tool = model.flange * cell.tool.tool_point;
  model.link[n - 1] = model.link[n - 1] + model.flange * cell.tool.inertia;
  if (cell.load) model.load = model.tool * cell.load->inertia;
  compile_drives(cell, joints, model);
  return model;
}

}  // namespace armwright
