#include "armwright/kinematics/inverse/freedoms.hpp"

#include <Eigen/SVD>
#include <array>

#include "armwright/kinematics/inverse/axes.hpp"
#include "armwright/kinematics/jacobian_columns.hpp"

namespace armwright {

namespace {

std::array<Pose, max_joints> frames_anywhere(const Model& model) {
  std::array<double, max_joints> q{};
  for (std::size_t i = 0; i < model.joint_count; ++i) q[i] = 0.37 + 0.61 * static_cast<double>(i) - 0.09 * static_cast<double>(i * i);
  std::array<Pose, max_joints> frames;
  joint_frames(model, q.data(), frames.data());
  return frames;
}

}  // namespace

std::vector<std::size_t> sliding_first(const Model& model) {
  std::vector<std::size_t> order;
  for (const JointKind kind : {JointKind::prismatic, JointKind::revolute})
    for (std::size_t i = 0; i < model.joint_count; ++i)
      if (model.step[i].kind == kind) order.push_back(i);
  return order;
}

std::size_t freedoms(const Model& model, const std::vector<std::size_t>& joints) {
  const auto frames = frames_anywhere(model);
  std::array<JacobianColumn<double>, max_joints> columns;
  jacobian_columns(model, frames.data(), columns.data());
  Eigen::MatrixXd J(6, joints.size());
  for (std::size_t k = 0; k < joints.size(); ++k) {
    const auto& [v, w] = columns[joints[k]];
    J.col(static_cast<Eigen::Index>(k)) << v.x, v.y, v.z, w.x, w.y, w.z;
  }
  Eigen::JacobiSVD<Eigen::MatrixXd> svd(J);
  svd.setThreshold(1e-9);
  return static_cast<std::size_t>(svd.rank());
}

bool ends_in_spherical_wrist(const Model& model, const std::vector<std::size_t>& joints) {
  if (joints.size() < 3) return false;
  const auto frames = frames_anywhere(model);
  std::array<AxisLine, 3> line;
  for (std::size_t k = 0; k < 3; ++k) {
    const std::size_t joint = joints[joints.size() - 3 + k];
    if (model.step[joint].kind != JointKind::revolute) return false;
    line[k] = {frames[joint].position, frames[joint].rotation.z};
  }
  Vec3 point;
  return meet(line[0], line[1], line[2], point);
}

}  // namespace armwright
