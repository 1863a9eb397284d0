#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <span>

#include "armwright/kinematics/on_the_limit.hpp"
#include "armwright/model/model.hpp"

namespace armwright {

/// Distance to the joint limits of one posture, or of a pack of them that stand `stride` numbers apart; see limit_margins(). A
/// joint with a range of no width (a track of no stroke) does not count.
template <class T>
ARMWRIGHT_INLINE T limit_margin_of(const Model& model, const double* q, std::size_t stride, std::size_t joints) {
  const T zero(0.0);
  T margin(1.0);
  for (std::size_t i = 0; i < joints; ++i) {
    const double half = 0.5 * (model.upper[i] - model.lower[i]);
    if (!std::isfinite(half) || half <= 0) continue;
    const T value = load_rows<T>(q, stride, i);
    margin = minimum(minimum(value - T(model.lower[i]), T(model.upper[i]) - value) / T(half), margin);
  }
  return select((margin < zero) & (margin >= T(-on_the_limit)), zero, margin);
}
inline double limit_margin(const Model& model, const double* q) { return limit_margin_of<double>(model, q, 0, model.joint_count); }
/// Of the first joints alone.
inline double limit_margin(const Model& model, std::span<const double> first) { return limit_margin_of<double>(model, first.data(), 0, first.size()); }

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
