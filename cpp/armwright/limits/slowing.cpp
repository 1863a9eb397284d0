#include "armwright/limits/slowing.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

// The first joint, stage or motor that is too fast at speed factor u, or at its acceleration.
Violation too_fast(const Model& model, const ScaledTorques& torques, double u) {
  const RefinedMotion& m = torques.motion;
  const std::size_t n = m.joint_count;
  const double hair = 1 + 1e-9;
  Violation out;
  for (std::size_t at = 0; at < m.q.size(); ++at) {
    const std::size_t k = at % n;
    const SpeedLimit limit = greatest_axis_speed(torques.drives[k]);
    const auto is = [&](std::int8_t part, CheckLimit what) {
      out = {0, static_cast<std::int32_t>(k), part, what, m.time[at / n]};
      return out;
    };
    if (u * std::fabs(m.speed[at]) > model.speed[k] * hair) return is(part_stated, CheckLimit::joint_speed);
    if (u * u * std::fabs(m.acceleration[at]) > model.acceleration[k] * hair) return is(part_stated, CheckLimit::joint_acceleration);
    if (u * std::fabs(m.axis_speed[at]) > limit.speed * hair) return is(limit.part, limit.part == part_motor ? CheckLimit::motor_speed : CheckLimit::stage_speed);
  }
  return out;
}

}  // namespace

SlowedLoads payload_against_slowing(const Model& model, const ScaledTorques& torques, std::span<const double> slowing, double cap, unsigned threads, const Progress& progress) {
  SlowedLoads out;
  out.points.resize(slowing.size());
  out.complete = for_each_piece(slowing.size(), threads, progress, [&](std::size_t i, std::size_t) {
    SlowedLoad& point = out.points[i];
    const double u = std::isinf(slowing[i]) ? 0 : 1 / slowing[i];
    point.slowing = slowing[i];
    point.duration = scaled_duration(torques.motion, u);
    const LoadScale scale = greatest_load(torques, u, cap);
    point.peak = scale.peak.at;
    point.continuous = scale.continuous.at;
    point.least = scale.least();
    const Violation fast = too_fast(model, torques, u);
    if (fast.axis >= 0) point.least = fast, point.peak = 0;
  });
  return out;
}

}  // namespace armwright
