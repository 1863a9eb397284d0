#include "armwright/limits/setpoints.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

RefinedMotion sampled(const Model& model, const TimedMotion& motion, double rate) {
  const std::size_t n = motion.joint_count;
  const double start = motion.time.front(), span = motion.time.back() - start;
  const auto whole = static_cast<std::size_t>(std::floor(span * rate * (1 + 1e-12) + 1e-9));
  const std::size_t rows = whole + 1 + (span * rate - static_cast<double>(whole) > 1e-9 ? 1 : 0);
  RefinedMotion out;
  out.joint_count = n;
  out.time.resize(rows);
  for (auto* each : {&out.q, &out.speed, &out.acceleration, &out.axis_speed, &out.axis_acceleration, &out.direction}) each->resize(rows * n);
  for (std::size_t i = 0, row = 0; i < rows; ++i) {
    const double t = i > whole ? motion.time.back() : std::min(start + static_cast<double>(i) / rate, motion.time.back());
    while (row + 1 < motion.time.size() && motion.time[row + 1] <= t) ++row;
    const bool last = row + 1 == motion.time.size();
    const std::size_t owner = last ? row : row + 1, at = i * n;
    const double s = last ? 0 : (t - motion.time[row]) / (motion.time[row + 1] - motion.time[row]);
    between_rows(motion, row, s, &out.q[at], &out.speed[at], &out.acceleration[at]);
    axis_motion(model, &out.speed[at], &out.axis_speed[at]);
    axis_motion(model, &out.acceleration[at], &out.axis_acceleration[at]);
    for (std::size_t k = 0; k < n; ++k) out.direction[at + k] = std::fabs(out.axis_speed[at + k]) <= 1e-12 ? 0 : out.axis_speed[at + k];
    out.time[i] = t;
    out.move.push_back(motion.move[owner]);
    out.load.push_back(motion.load[owner]);
  }
  return out;
}

}  // namespace

Setpoints setpoints(const Model& model, std::span<const Inertia> loads, const TimedMotion& motion, double rate) {
  const std::size_t n = model.joint_count;
  Setpoints out;
  out.driven = driven_rows(model, loads, sampled(model, motion, rate));
  out.motor_position.resize(out.driven.motion.q.size());
  for (std::size_t at = 0; at < out.motor_position.size(); at += n) {
    axis_motion(model, &out.driven.motion.q[at], &out.motor_position[at]);
    for (std::size_t k = 0; k < n; ++k) out.motor_position[at + k] *= out.driven.drives[k].ratio;
  }
  out.greatest_motor_speed.assign(n, 0);
  std::array<double, max_joints> axis;
  for (std::size_t at = 0; at < motion.speed.size(); at += n) {
    axis_motion(model, &motion.speed[at], axis.data());
    for (std::size_t k = 0; k < n; ++k) out.greatest_motor_speed[k] = std::max(out.greatest_motor_speed[k], std::fabs(axis[k] * out.driven.drives[k].ratio));
  }
  return out;
}

}  // namespace armwright
