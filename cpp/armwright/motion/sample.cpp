#include "armwright/motion/sample.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

constexpr double rounding = 1e-12;  // of positions, rad or m

// Joint i between rows a and b, h apart, at share t: the cubic through speeds and accelerations, and what its way then lacks spread by
// 10 t³ − 15 t⁴ + 6 t⁵, together the polynomial of fifth degree. Of rows that are next to one another the rest is rounding and must not
// make a speed.
void between(const TimedMotion& m, std::size_t a, std::size_t b, std::size_t i, double h, double t, TimedMotion& out) {
  const std::size_t n = m.joint_count;
  const double p0 = m.q[a * n + i], v0 = m.speed[a * n + i], a0 = h * m.acceleration[a * n + i];
  const double way = m.q[b * n + i] - p0, dv = m.speed[b * n + i] - v0, a1 = h * m.acceleration[b * n + i];
  const double c2 = 3 * dv - 2 * a0 - a1, c3 = a0 + a1 - 2 * dv;
  const double rest = way - h * (v0 + a0 / 2 + c2 / 3 + c3 / 4);
  const double moves = std::fabs(rest) > rounding * std::max(1.0, std::fabs(p0)) ? rest / h : 0, left = t * (1 - t);
  out.q.push_back(p0 + h * t * (v0 + t * (a0 / 2 + t * (c2 / 3 + t * c3 / 4))) + rest * t * t * t * (10 + t * (6 * t - 15)));
  out.speed.push_back(v0 + t * (a0 + t * (c2 + t * c3)) + 30 * moves * left * left);
  out.acceleration.push_back((a0 + t * (2 * c2 + t * 3 * c3) + 60 * moves * left * (1 - 2 * t)) / h);
}

void copy_row(const TimedMotion& m, std::size_t row, TimedMotion& out) {
  for (std::size_t i = 0; i < m.joint_count; ++i) {
    out.q.push_back(m.q[row * m.joint_count + i]);
    out.speed.push_back(m.speed[row * m.joint_count + i]);
    out.acceleration.push_back(m.acceleration[row * m.joint_count + i]);
  }
}

}  // namespace

TimedMotion motion_at(const TimedMotion& motion, const std::vector<double>& times) {
  TimedMotion out;
  out.joint_count = motion.joint_count;
  if (motion.time.empty()) return out;
  std::size_t row = 0;  // the last row at or before the time
  for (const double time : times) {
    while (row + 1 < motion.time.size() && motion.time[row + 1] <= time) ++row;
    out.time.push_back(time);
    out.move.push_back(motion.move[row]);
    out.load.push_back(motion.load[row]);
    out.limit.push_back(motion.limit[row]);
    out.limit_axis.push_back(motion.limit_axis[row]);
    const double h = row + 1 < motion.time.size() ? motion.time[row + 1] - motion.time[row] : 0;
    if (h <= 0 || time <= motion.time[row]) {
      copy_row(motion, row, out);
      continue;
    }
    for (std::size_t i = 0; i < motion.joint_count; ++i) between(motion, row, row + 1, i, h, (time - motion.time[row]) / h, out);
  }
  return out;
}

void append_control_points(const TimedMotion& m, std::size_t row, std::vector<double>& out) {
  const std::size_t n = m.joint_count, first = out.size();
  const double h = m.time[row + 1] - m.time[row];
  out.resize(first + 6 * n);
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t a = row * n + i, b = a + n;
    const double p0 = m.q[a], v0 = h * m.speed[a], a0 = h * h * m.acceleration[a];
    const double p1 = m.q[b], v1 = h * m.speed[b], a1 = h * h * m.acceleration[b];
    const double points[6] = {p0, p0 + v0 / 5, p0 + 2 * v0 / 5 + a0 / 20, p1 - 2 * v1 / 5 + a1 / 20, p1 - v1 / 5, p1};
    for (std::size_t k = 0; k < 6; ++k) out[first + k * n + i] = points[k];
  }
}

TimedMotion sample_motion(const TimedMotion& motion, double rate) {
  std::vector<double> times;
  if (!motion.time.empty()) {
    const double end = motion.time.back();
    for (std::size_t k = 0; static_cast<double>(k) / rate < end * (1 - 1e-12); ++k) times.push_back(static_cast<double>(k) / rate);
    times.push_back(end);
  }
  return motion_at(motion, times);
}

}  // namespace armwright
