#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "armwright/model/model.hpp"

namespace armwright {

/// A posture may pass a limit by this share of half the joint's range and still stand on it: rounding, not motion.
inline constexpr double on_the_limit = 1e-9;

/// Distance of one posture to the joint limits; see limit_margins(). A joint with a range of no width (a track of no
/// stroke) does not count.
inline double limit_margin(const Model& model, const double* q) {
  double margin = 1;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const double half = 0.5 * (model.upper[i] - model.lower[i]);
    if (!std::isfinite(half) || half <= 0) continue;
    margin = std::min(margin, std::min(q[i] - model.lower[i], model.upper[i] - q[i]) / half);
  }
  return margin < 0 && margin >= -on_the_limit ? 0 : margin;
}

/// The joint that stands farthest past a limit, rad or m; -1 if none does.
struct PastLimit {
  std::int32_t joint = -1;
  double by = 0;
};
inline PastLimit farthest_past_limit(const Model& model, const double* q) {
  PastLimit past;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const double by = std::max(model.lower[i] - q[i], q[i] - model.upper[i]);
    if (by > past.by) past = {static_cast<std::int32_t>(i), by};
  }
  return past;
}

}  // namespace armwright
