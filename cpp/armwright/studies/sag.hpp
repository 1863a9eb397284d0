#pragma once

#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/dynamics/elastic_chain.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// How far the tool sinks at each position. In each attitude the posture that sinks least counts; over the attitudes, the
/// least and the most. Values of positions that are not reached are NaN, causes -1.
struct SagMap {
  std::vector<double> least, greatest;     ///< shift of the tool point, m
  std::vector<double> lowest;              ///< how much lower it stands where it sinks most, m
  std::vector<std::int32_t> cause;         ///< the one with the greatest share of the greatest
  std::vector<double> cause_share;         ///< of that shift, along it
  std::vector<double> q;                   ///< positions × joint_count: where it sinks most
  bool complete = false;
};

/// `positions`: tool points in the world. `load`: in the last joint frame, mass 0 for none.
SagMap sag_map(const PostureSearch& search, const ElasticChain& chain, const Inertia& load, std::span<const Vec3> positions,
               const std::vector<Rotation>& attitudes, unsigned threads, const Progress& progress);

}  // namespace armwright
