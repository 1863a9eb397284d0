#pragma once

#include <cmath>

#include "../motion/drive_cases.hpp"
#include "armwright/motion/timed_motion.hpp"

namespace armwright::testing {

inline void add_row(TimedMotion& motion, double time, const std::vector<double>& q, const std::vector<double>& v, const std::vector<double>& a, int load = -1) {
  motion.joint_count = q.size();
  motion.time.push_back(time);
  motion.q.insert(motion.q.end(), q.begin(), q.end());
  motion.speed.insert(motion.speed.end(), v.begin(), v.end());
  motion.acceleration.insert(motion.acceleration.end(), a.begin(), a.end());
  motion.move.push_back(0);
  motion.load.push_back(load);
  motion.limit.push_back(0);
  motion.limit_axis.push_back(-1);
}

/// One axis through an angle in thirds of `time` (speeding up, even, braking), then standing for `pause`.
inline TimedMotion thirds(double angle, double time, double pause, int load = -1) {
  TimedMotion motion;
  const double v = 1.5 * angle / time, a = 3 * v / time, t = time / 3;
  add_row(motion, 0, {0}, {0}, {a}, load);
  add_row(motion, t, {angle / 4}, {v}, {a}, load);
  add_row(motion, t, {angle / 4}, {v}, {0}, load);
  add_row(motion, 2 * t, {0.75 * angle}, {v}, {0}, load);
  add_row(motion, 2 * t, {0.75 * angle}, {v}, {-a}, load);
  add_row(motion, time, {angle}, {0}, {-a}, load);
  if (pause > 0) {
    add_row(motion, time, {angle}, {0}, {0}, load);
    add_row(motion, time + pause, {angle}, {0}, {0}, load);
  }
  return motion;
}

/// All joints swing, each at its own whole multiple of the cycle's frequency, from and to the same posture; then stand for a tenth of it.
inline TimedMotion swinging(Draw& draw, std::size_t joints, double period, int load, double size = 0.6) {
  TimedMotion motion;
  std::vector<double> middle(joints), swing(joints), phase(joints), q(joints), v(joints), a(joints);
  for (std::size_t i = 0; i < joints; ++i) middle[i] = draw.uniform(-1, 1), swing[i] = draw.uniform(0.2, size), phase[i] = i % 2 ? quarter_turn : 0;
  const auto row = [&](double t, double stand) {
    for (std::size_t i = 0; i < joints; ++i) {
      const double w = 2 * half_turn / period * static_cast<double>(1 + i % 3);
      // s³-like start and end: a swing times a bump that starts and ends at rest
      const double x = t / period, bump = 16 * x * x * (1 - x) * (1 - x), b1 = 32 * x * (1 - x) * (1 - 2 * x) / period,
                   b2 = 32 * (1 - 6 * x + 6 * x * x) / (period * period);
      const double s = std::sin(w * t + phase[i]), c = std::cos(w * t + phase[i]);
      q[i] = middle[i] + swing[i] * bump * s;
      v[i] = stand * swing[i] * (b1 * s + bump * w * c);
      a[i] = stand * swing[i] * (b2 * s + 2 * b1 * w * c - bump * w * w * s);
    }
  };
  const int rows = 200;
  for (int r = 0; r <= rows; ++r) {
    row(period * r / rows, 1);
    add_row(motion, period * r / rows, q, v, a, load);
  }
  row(period, 0);
  add_row(motion, period, q, v, a, load);
  add_row(motion, 1.1 * period, q, v, a, load);
  return motion;
}

/// The same path run so many times faster; what stands keeps its time.
inline TimedMotion run_faster(TimedMotion motion, double u) {
  double at = 0, before = motion.time[0];
  for (std::size_t r = 0; r < motion.time.size(); ++r) {
    const double h = motion.time[r] - before;
    bool moves = false;
    for (std::size_t i = 0; i < motion.joint_count; ++i) moves = moves || motion.speed[r * motion.joint_count + i] != 0 || (r > 0 && motion.speed[(r - 1) * motion.joint_count + i] != 0);
    before = motion.time[r];
    at += moves ? h / u : h;
    motion.time[r] = at;
  }
  for (double& v : motion.speed) v *= u;
  for (double& a : motion.acceleration) a *= u * u;
  return motion;
}

inline Inertia times(double factor, Inertia body) {
  for (double* x : {&body.mass, &body.xx, &body.yy, &body.zz, &body.xy, &body.xz, &body.yz}) *x *= factor;
  return body;
}

/// A small arm whose drives are strong enough for it, more or less.
inline Model driven_arm(Draw& draw, std::size_t joints, double strength = 1, bool reducer_limits = true) {
  CellSpec cell = random_cell(draw, joints);
  cell.load.reset();
  for (std::size_t i = 0; i < joints; ++i) {
    DriveSpec drive = random_drive(draw, 1 + i % 2);
    for (StageSpec& stage : drive.stages) {
      stage.ratio *= i % 2 ? 1.2 : 8;
      stage.rated_torque = reducer_limits ? 150 * strength : unlimited;
      stage.repeated_peak_torque = reducer_limits ? 300 * strength : unlimited;
      stage.momentary_peak_torque = unlimited;
      if (i % 3 == 1) stage.life_exponent = 10.0 / 3;
    }
    for (auto* curve : {&drive.motor.continuous, &drive.motor.peak})
      for (CurvePoint& p : *curve) p.torque *= 2 * strength;
    cell.arm.joints[i].drive = drive;
  }
  return compile(cell);
}

}  // namespace armwright::testing
