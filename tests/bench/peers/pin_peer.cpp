// The peer for kinematics and dynamics: pinocchio, used from C++ through its headers, as fast as it goes on one core.
// A C interface, called through ctypes. Every function loops over `count` postures and returns the processor seconds it took.
// The model is told in numbers (taken by the caller from pinocchio's own URDF reader), so that the header-only
// algorithms can be compiled with any instruction set without meeting the wheel's compiled parts.
#include <memory>

#include <pinocchio/algorithm/aba.hpp>
#include <pinocchio/algorithm/crba.hpp>
#include <pinocchio/algorithm/frames.hpp>
#include <pinocchio/algorithm/jacobian.hpp>
#include <pinocchio/algorithm/joint-configuration.hpp>
#include <pinocchio/algorithm/kinematics.hpp>
#include <pinocchio/algorithm/rnea.hpp>
#include <pinocchio/multibody.hpp>

#include "clock.hpp"

namespace pin = pinocchio;
using RowMajor4 = Eigen::Matrix<double, 4, 4, Eigen::RowMajor>;
using ConstRow = Eigen::Map<const Eigen::VectorXd>;

struct PinPeer {
  pin::Model model;
  std::unique_ptr<pin::Data> data;
  pin::JointIndex last = 0;
  pin::FrameIndex tool = 0;
};

static pin::SE3 pose_of(const double* rows) {
  const Eigen::Map<const RowMajor4> m(rows);
  return {m.topLeftCorner<3, 3>(), m.topRightCorner<3, 1>()};
}

template <class JointX, class JointY, class JointZ>
static pin::JointIndex add_joint(pin::Model& model, pin::JointIndex parent, int axis, const pin::SE3& placement, const std::string& name) {
  if (axis == 0) return model.addJoint(parent, JointX(), placement, name);
  if (axis == 1) return model.addJoint(parent, JointY(), placement, name);
  return model.addJoint(parent, JointZ(), placement, name);
}

extern "C" {

/// kinds: 0 revolute, 1 prismatic; axes: 0 x, 1 y, 2 z of the joint frame; placements: n 4x4 row-major;
/// bodies: n rows of mass, centre (3), inertia about the centre (xx, xy, yy, xz, yz, zz); tool: 4x4 in the last frame.
void* pin_open(int n, const int* kinds, const int* axes, const double* placements, const double* bodies, const double* tool, double g) {
  auto* peer = new PinPeer;
  pin::JointIndex parent = 0;
  for (int i = 0; i < n; ++i) {
    const pin::SE3 placement = pose_of(placements + 16 * i);
    const std::string name = "joint " + std::to_string(i);
    parent = kinds[i] == 0
                 ? add_joint<pin::JointModelRX, pin::JointModelRY, pin::JointModelRZ>(peer->model, parent, axes[i], placement, name)
                 : add_joint<pin::JointModelPX, pin::JointModelPY, pin::JointModelPZ>(peer->model, parent, axes[i], placement, name);
    const double* b = bodies + 10 * i;
    const pin::Symmetric3 about_centre(b[4], b[5], b[6], b[7], b[8], b[9]);
    peer->model.appendBodyToJoint(parent, pin::Inertia(b[0], Eigen::Vector3d(b[1], b[2], b[3]), about_centre), pin::SE3::Identity());
  }
  peer->last = parent;
  peer->tool = peer->model.addFrame(pin::Frame("tool", parent, 0, pose_of(tool), pin::OP_FRAME));
  peer->model.gravity.linear() = Eigen::Vector3d(0, 0, -g);
  peer->data = std::make_unique<pin::Data>(peer->model);
  return peer;
}

/// Reflected inertias of the motors, one a joint; rnea and crba count them.
void pin_set_armature(void* handle, const double* armature) {
  pin::Model& model = static_cast<PinPeer*>(handle)->model;
  model.armature = ConstRow(armature, model.nv);
}

void pin_close(void* handle) { delete static_cast<PinPeer*>(handle); }

double pin_tool_pose(void* handle, long count, const double* q, double* poses) {
  auto& [model, data, last, tool] = *static_cast<PinPeer*>(handle);
  const auto start = now();
  for (long k = 0; k < count; ++k) {
    pin::forwardKinematics(model, *data, ConstRow(q + k * model.nq, model.nq));
    const pin::SE3& X = pin::updateFramePlacement(model, *data, tool);
    Eigen::Map<RowMajor4> out(poses + 16 * k);
    out.topLeftCorner<3, 3>() = X.rotation();
    out.topRightCorner<3, 1>() = X.translation();
    out.row(3) << 0, 0, 0, 1;
  }
  return seconds_since(start);
}

/// Jacobians (6 x n row-major, world axes, linear rows first), and Yoshikawa's index if `index` is given.
double pin_jacobian(void* handle, long count, const double* q, double* jacobians, double* index) {
  auto& [model, data, last, tool] = *static_cast<PinPeer*>(handle);
  using Jacobian = Eigen::Matrix<double, 6, Eigen::Dynamic, Eigen::RowMajor>;
  const auto start = now();
  pin::Data::Matrix6x J(6, model.nv);
  for (long k = 0; k < count; ++k) {
    J.setZero();
    pin::computeFrameJacobian(model, *data, ConstRow(q + k * model.nq, model.nq), tool, pin::LOCAL_WORLD_ALIGNED, J);
    Eigen::Map<Jacobian>(jacobians + 6 * model.nv * k, 6, model.nv) = J;
    if (index != nullptr) {
      const Eigen::Matrix<double, 6, 6> gram = J * J.transpose();
      index[k] = gram.llt().matrixL().determinant();  // the root of the determinant
    }
  }
  return seconds_since(start);
}

double pin_gravity(void* handle, long count, const double* q, double* torques) {
  auto& [model, data, last, tool] = *static_cast<PinPeer*>(handle);
  const auto start = now();
  for (long k = 0; k < count; ++k) {
    Eigen::Map<Eigen::VectorXd>(torques + k * model.nv, model.nv) =
        pin::computeGeneralizedGravity(model, *data, ConstRow(q + k * model.nq, model.nq));
  }
  return seconds_since(start);
}

double pin_inverse_dynamics(void* handle, long count, const double* q, const double* qd, const double* qdd, double* torques) {
  auto& [model, data, last, tool] = *static_cast<PinPeer*>(handle);
  const auto start = now();
  for (long k = 0; k < count; ++k) {
    const long at = k * model.nv;
    Eigen::Map<Eigen::VectorXd>(torques + at, model.nv) =
        pin::rnea(model, *data, ConstRow(q + at, model.nv), ConstRow(qd + at, model.nv), ConstRow(qdd + at, model.nv));
  }
  return seconds_since(start);
}

double pin_forward_dynamics(void* handle, long count, const double* q, const double* qd, const double* torques, double* accelerations) {
  auto& [model, data, last, tool] = *static_cast<PinPeer*>(handle);
  const auto start = now();
  for (long k = 0; k < count; ++k) {
    const long at = k * model.nv;
    Eigen::Map<Eigen::VectorXd>(accelerations + at, model.nv) =
        pin::aba(model, *data, ConstRow(q + at, model.nv), ConstRow(qd + at, model.nv), ConstRow(torques + at, model.nv), pin::Convention::WORLD);
  }
  return seconds_since(start);
}

double pin_mass_matrix(void* handle, long count, const double* q, double* matrices) {
  auto& [model, data, last, tool] = *static_cast<PinPeer*>(handle);
  const auto start = now();
  for (long k = 0; k < count; ++k) {
    data->M.setZero();
    pin::crba(model, *data, ConstRow(q + k * model.nq, model.nq), pin::Convention::WORLD);
    Eigen::Map<Eigen::MatrixXd> out(matrices + k * model.nv * model.nv, model.nv, model.nv);
    out = data->M.selfadjointView<Eigen::Upper>();
  }
  return seconds_since(start);
}
}
