#include "armwright/elements/guide_blocks.hpp"

#include <Eigen/Eigenvalues>

namespace armwright {

namespace {

// What is less than this share of the stiffest turn's resistance is none: blocks within 3e-5 of their span in one line.
constexpr double no_resistance = 1e-9;

Eigen::Matrix3d cross(const Eigen::Vector3d& r) {
  return (Eigen::Matrix3d() << 0, -r.z(), r.y(), r.z(), 0, -r.x(), -r.y(), r.x(), 0).finished();
}

// Movement of the spring ends of a block at r from the blocks' middle, as the carriage turns: across, then up.
Eigen::Matrix<double, 2, 3> from_turn(const Eigen::Vector3d& r) { return -cross(r).bottomRows<2>(); }

// The resistance to turns, split into its inverse where there is one, and the part of a moment that meets none.
struct Turns {
  Eigen::Matrix3d inverse = Eigen::Matrix3d::Zero(), unresisted = Eigen::Matrix3d::Zero();
};

Turns split(const Eigen::Matrix3d& resistance) {
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solved(resistance);
  const double most = solved.eigenvalues().maxCoeff();
  Turns turns;
  for (int i = 0; i < 3; ++i) {
    const double value = solved.eigenvalues()[i];
    const Eigen::Vector3d axis = solved.eigenvectors().col(i);
    if (value > no_resistance * most && most > 0) {
      turns.inverse += axis * axis.transpose() / value;
    } else {
      turns.unresisted += axis * axis.transpose();
    }
  }
  return turns;
}

}  // namespace

GuideLayout block_map(std::span<const BlockPlace> places, double feed_across, double feed_up) {
  const auto count = static_cast<Eigen::Index>(places.size());
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  for (const BlockPlace& p : places) middle += Eigen::Vector3d(p.along, p.across, p.up) / static_cast<double>(count);
  const auto from_middle = [&](Eigen::Index i) {
    const BlockPlace& p = places[static_cast<std::size_t>(i)];
    return Eigen::Vector3d(Eigen::Vector3d(p.along, p.across, p.up) - middle);
  };
  Eigen::Matrix3d resistance = Eigen::Matrix3d::Zero();
  for (Eigen::Index i = 0; i < count; ++i) resistance += from_turn(from_middle(i)).transpose() * from_turn(from_middle(i));
  const Turns turns = split(resistance);

  // The blocks' share of the wrench, about their middle: without the force along x, which the feed takes at its own place.
  Eigen::Matrix<double, 2, 6> force = Eigen::Matrix<double, 2, 6>::Zero();
  force(0, 1) = force(1, 2) = 1;
  Eigen::Matrix<double, 3, 6> moment = Eigen::Matrix<double, 3, 6>::Zero();
  moment.leftCols<3>() = -cross(middle);
  moment.col(0) = Eigen::Vector3d(0, -feed_up, feed_across);
  moment.rightCols<3>().setIdentity();

  GuideLayout layout;
  layout.map.resize(5 * count, 6);
  const Eigen::Matrix<double, 3, 6> own = turns.unresisted * moment / static_cast<double>(count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const Eigen::Matrix<double, 2, 6> load = force / static_cast<double>(count) + from_turn(from_middle(i)) * (turns.inverse * moment);
    layout.map.row(5 * i) = -load.row(1);
    layout.map.row(5 * i + 1) = load.row(0);
    layout.map.middleRows<3>(5 * i + 2) = own;
  }
  const Eigen::Vector3d bears = turns.unresisted.rowwise().norm();
  layout.roll = bears.x() > 1e-6;
  layout.pitch = bears.y() > 1e-6;
  layout.yaw = bears.z() > 1e-6;
  return layout;
}

}  // namespace armwright
