#pragma once

#include <span>
#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// A reach map: at which positions the tool can be, in how many of the attitudes, and how well.
struct ReachMap {
  std::vector<std::int32_t> attitudes_reached;  ///< a position each; of request.attitudes
  std::vector<double> limit_margin;      ///< best over all postures found; NaN where none
  std::vector<double> manipulability;    ///< best; NaN where none
  std::vector<double> clearance;         ///< best, m; NaN where none; +infinity with nothing near
  std::vector<double> track_lower, track_upper;  ///< from where on the track it is reached, m; NaN where nowhere
  bool complete = false;                 ///< false: cancelled; positions not done have attitudes_reached -1
};

/// Ends of the track interval are found to this, m.
inline constexpr double track_end_tolerance = 1e-4;

/// For every position all `attitudes` (tool frames in the world) are tried at all of the search's samples.
ReachMap reach_map(const PostureSearch& search, std::span<const Vec3> positions, const std::vector<Rotation>& attitudes, unsigned threads,
                   const Progress& progress);

}  // namespace armwright
