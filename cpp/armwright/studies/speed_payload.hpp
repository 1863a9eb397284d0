#pragma once

#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/limits/speed_payload.hpp"
#include "armwright/limits/static_payload.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// What is held at rest and what is moved as asked, at each position. In each attitude the best posture counts, each for
/// its own; over the attitudes, the best and the worst. NaN where a position is not reached, -1 where there is no joint or part.
struct SpeedPayloadMap {
  std::vector<double> rest_greatest, rest_least;              ///< kg
  std::vector<std::int32_t> rest_joint, rest_joint_least;
  std::vector<MovingPayload> greatest, least;                 ///< mass NaN where not reached
  bool complete = false;
};

/// `positions`: tool points in the world. `setup`'s model is the one that is loaded; the search's may have further joints behind it that
/// let the tool turn freely (with_free_wrist). `rest`: which torque counts for what is held at rest.
SpeedPayloadMap speed_payload_map(const PostureSearch& search, const MovingSetup& setup, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes,
                                  Limit rest, unsigned threads, const Progress& progress);

}  // namespace armwright
