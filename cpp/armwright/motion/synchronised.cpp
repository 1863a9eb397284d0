#include "armwright/motion/synchronised.hpp"

#include <array>
#include <cmath>
#include <limits>

#include "armwright/motion/profile_jerk.hpp"
#include "armwright/motion/profile_trapezoid.hpp"

namespace armwright {

namespace {

struct Least {
  double value = std::numeric_limits<double>::infinity();
  std::int32_t axis = -1;
  void take(double limit, double distance, std::size_t of) {
    if (limit / distance < value) value = limit / distance, axis = static_cast<std::int32_t>(of);
  }
};

Profile share_of(double speed, double acceleration, double jerk) {
  return std::isfinite(jerk) ? double_s(1, speed, acceleration, jerk) : trapezoid(1, speed, acceleration);
}

}  // namespace

Synchronised synchronised(std::span<const double> from, std::span<const double> to, std::span<const double> speed,
                          std::span<const double> acceleration, std::span<const double> jerk) {
  Least v, a, j;
  bool moves = false;
  for (std::size_t i = 0; i < from.size(); ++i) {
    const double distance = std::fabs(to[i] - from[i]);
    if (distance == 0) continue;
    moves = true;
    v.take(speed[i], distance, i);
    a.take(acceleration[i], distance, i);
    if (!jerk.empty()) j.take(jerk[i], distance, i);
  }
  Synchronised out;
  if (!moves) return out;
  if (!std::isfinite(a.value) && !std::isfinite(j.value)) {
    out.bounded = false;
    return out;
  }
  out.share = share_of(v.value, a.value, j.value);
  const std::array<MotionLimit, 3> names{MotionLimit::joint_speed, MotionLimit::joint_acceleration, MotionLimit::joint_jerk};
  const std::array<std::int32_t, 3> axes{v.axis, a.axis, j.axis};
  const std::array<double, 3> without{share_of(2 * v.value, a.value, j.value).duration(), share_of(v.value, 2 * a.value, j.value).duration(),
                                      share_of(v.value, a.value, 2 * j.value).duration()};
  std::size_t most = 0;
  for (std::size_t k = 1; k < 3; ++k)
    if (without[k] < without[most]) most = k;
  out.limit = names[most];
  out.axis = axes[most];
  return out;
}

}  // namespace armwright
