#pragma once

#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/limits/static_payload.hpp"
#include "armwright/spatial/grid.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// What load counts, and against which limit.
struct PayloadRequest {
  Vec3 centre{0, 0, 0};  ///< load centre in the tool frame, m
  Limit limit = Limit::continuous;
};

/// A payload map. In each attitude the best posture counts; over the attitudes, the best and the worst.
struct PayloadMap {
  std::vector<double> mass_greatest;        ///< kg; NaN where not reached
  std::vector<double> mass_least;           ///< kg; NaN where not reached
  std::vector<std::int32_t> limiting_joint; ///< of the greatest mass; -1 where none
  std::vector<std::int32_t> limiting_joint_least;  ///< of the least mass
  bool complete = false;
};

/// `positions`: tool points in the world.
PayloadMap payload_map(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes,
                       const PayloadRequest& request, unsigned threads, const Progress& progress);

}  // namespace armwright
