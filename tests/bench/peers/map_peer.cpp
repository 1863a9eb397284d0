// The peer for whole maps: eaik (compiled from its published sources) for all solutions of each pose, pinocchio's headers for
// frames, Jacobian and gravity, coal for the least distance, in one C++ loop on one core. Nothing is worked out that the map
// does not need: limits are asked first, a posture is left as soon as a pair is nearer than the margin, and pairs are asked in the order of
// a lower bound.
#include <cmath>

#include "EAIK.h"
#include "coal_peer.cpp"

struct MapPeer {
  CoalPeer* solids;
  std::unique_ptr<EAIK::Robot> arm;
  Eigen::Matrix4d to_base;  ///< from the world to the arm's base
  Eigen::VectorXd middle, half, effort;
};

struct Found {
  double limit_margin, manipulability, clearance, mass;
};

/// Largest mass at the tool point: each joint's torque is linear in it.
static double mass_held(const Eigen::VectorXd& own, const pin::Data::Matrix6x& J, const Eigen::VectorXd& effort, double g) {
  double least = std::numeric_limits<double>::infinity();
  for (Eigen::Index i = 0; i < own.size(); ++i) {
    const double each = J(2, i) * g;
    if (std::fabs(each) > 1e-12) least = std::min(least, (std::copysign(effort[i], each) - own[i]) / each);
  }
  return std::max(0.0, least);
}

extern "C" {

/// solids: of coal_open(). H, P, R: as eaik_open(). base: 4x4, where the arm stands. limits: lower, upper and torque, n each.
void* map_open(void* solids, const double* H, const double* P, const double* R, const double* base, const double* limits) {
  auto* peer = new MapPeer;
  peer->solids = static_cast<CoalPeer*>(solids);
  const Eigen::MatrixXd axes = Eigen::Map<const Eigen::Matrix<double, 3, 6>>(H);
  const Eigen::MatrixXd offsets = Eigen::Map<const Eigen::Matrix<double, 3, 7>>(P);
  const Eigen::Matrix3d turn = Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>>(R);
  peer->arm = std::make_unique<EAIK::Robot>(axes, offsets, turn);
  peer->to_base = Eigen::Map<const RowMajor4>(base).inverse();
  const ConstRow lower(limits, 6), upper(limits + 6, 6);
  peer->middle = 0.5 * (lower + upper), peer->half = 0.5 * (upper - lower), peer->effort = ConstRow(limits + 12, 6);
  return peer;
}

/// Every position with every attitude (rotations: 3x3 row-major). With `clearance` 0 distances do not count. Out, a position each:
/// attitudes reached; best limit margin, manipulability, clearance and mass over all postures (not written where none).
double map_positions(void* handle, long count, const double* positions, int attitudes, const double* rotations, int clearance, double margin,
                     int* reached, double* best) {
  MapPeer& peer = *static_cast<MapPeer*>(handle);
  auto& [model, data, last, tool] = *peer.solids->arm;
  const double g = -model.gravity.linear()[2], turn = 2 * std::acos(-1.0);
  std::vector<Bound> bounds(peer.solids->pairs.size());
  pin::Data::Matrix6x J(6, 6);
  Eigen::VectorXd q(6);
  Eigen::Matrix4d X = Eigen::Matrix4d::Identity();
  const auto start = now();
  for (long k = 0; k < count; ++k) {
    Found most{0, 0, 0, 0};
    reached[k] = 0;
    for (int a = 0; a < attitudes; ++a) {
      X.topLeftCorner<3, 3>() = Eigen::Map<const Eigen::Matrix<double, 3, 3, Eigen::RowMajor>>(rotations + 9 * a);
      X.topRightCorner<3, 1>() = Eigen::Map<const Eigen::Vector3d>(positions + 3 * k);
      const IKS::IK_Solution found = peer.arm->calculate_IK(peer.to_base * X);
      bool served = false;
      for (std::size_t i = 0; i < found.Q.size(); ++i) {
        if (found.is_LS_vec[i]) continue;
        double kept = std::numeric_limits<double>::infinity();
        for (int j = 0; j < 6; ++j) {
          q[j] = found.Q[i][j] + turn * std::round((peer.middle[j] - found.Q[i][j]) / turn);
          kept = std::min(kept, (peer.half[j] - std::fabs(q[j] - peer.middle[j])) / peer.half[j]);
        }
        if (kept < 0) continue;
        double distance = 0;
        if (clearance != 0) {
          place(*peer.solids, q.data());
          distance = least_best_first(*peer.solids, margin, bounds);
          if (distance < margin) continue;
        } else {
          pin::forwardKinematics(model, *data, q);
        }
        pin::computeJointJacobians(model, *data);
        J.setZero();
        pin::updateFramePlacement(model, *data, tool);
        pin::getFrameJacobian(model, *data, tool, pin::LOCAL_WORLD_ALIGNED, J);
        const double volume = clearance != 0 ? std::fabs(Eigen::Matrix<double, 6, 6>(J).partialPivLu().determinant()) : 0;
        const double mass = mass_held(pin::computeGeneralizedGravity(model, *data, q), J, peer.effort, g);
        most = served || reached[k] > 0 ? Found{std::max(most.limit_margin, kept), std::max(most.manipulability, volume), std::max(most.clearance, distance), std::max(most.mass, mass)}
                                        : Found{kept, volume, distance, mass};
        served = true;
      }
      reached[k] += served;
    }
    best[4 * k] = most.limit_margin, best[4 * k + 1] = most.manipulability, best[4 * k + 2] = most.clearance, best[4 * k + 3] = most.mass;
  }
  return seconds_since(start);
}
}
