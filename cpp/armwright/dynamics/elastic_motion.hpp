#pragma once

#include <Eigen/Core>

#include "armwright/dynamics/elastic_chain.hpp"
#include "armwright/dynamics/springs.hpp"

namespace armwright {

using ElasticColumns = Eigen::Matrix<double, 6, Eigen::Dynamic>;

/// Scratch of one posture; sized once for a chain.
struct ElasticSpace {
  Pose frames[max_joints];
  std::vector<Vec3> way_point, way_shift, way_turn;  ///< ways in the world
  ElasticColumns moved;                              ///< of the thing in hand
  Eigen::VectorXd pushed;                            ///< generalised forces
  explicit ElasticSpace(const ElasticChain& chain);
};

/// Joint frames and ways of a posture, in the world.
void place_chain(const Model& model, const ElasticChain& chain, const double* q, ElasticSpace& space);

/// How a thing moves with each coordinate: shift of its point `point` (world, m) and turn, 6 × coordinates, into `space.moved`.
void move_with(const Model& model, const ElasticChain& chain, const Fastened& at, const Vec3& point, ElasticSpace& space);

/// Where the tool and the load sit: behind everything.
inline Fastened at_tool(const Model& model, const ElasticChain& chain) {
  return {static_cast<int>(model.joint_count) - 1, chain.elements.size(), false, 0};
}

/// A point of F(body) in the world, body -1 being the world.
inline Vec3 in_world(const ElasticSpace& space, int body, const Vec3& point) { return body < 0 ? point : space.frames[body] * point; }

/// Force of a counterbalance on its end a, by the way from a to b, world, N.
inline Vec3 force_on_a(const Spring& spring, const Vec3& reach) {
  const double length = norm(reach);
  return length > 1e-9 ? (spring_pull(spring, length) / length) * reach : Vec3{0, 0, 0};
}

}  // namespace armwright
