#include "armwright/limits/first_violation.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

Course operator+(const Course& a, const Course& b) { return {{a.value[0] + b.value[0], a.value[1] + b.value[1], a.value[2] + b.value[2]}}; }
Course operator*(double f, const Course& a) { return {{f * a.value[0], f * a.value[1], f * a.value[2]}}; }
Course plus(Course a, double constant) {
  a.value[0] += constant;
  return a;
}
double slope(const Course& c, double s) { return c.value[1] + 2 * s * c.value[2]; }

// Real roots in rising order; how many.
int roots(const Course& c, double* root) {
  const auto& [k, b, a] = c.value;
  if (a == 0) {
    if (b == 0) return 0;
    root[0] = -k / b;
    return 1;
  }
  const double under = b * b - 4 * a * k;
  if (under < 0) return 0;
  const double both = -0.5 * (b + (b < 0 ? -1 : 1) * std::sqrt(under));
  root[0] = both / a;
  root[1] = both != 0 ? k / both : root[0];
  if (root[0] > root[1]) std::swap(root[0], root[1]);
  return 2;
}

// Sign of c just above s.
double sign_above(const Course& c, double s) {
  const double size = std::fabs(c.value[0]) + s * (std::fabs(c.value[1]) + s * std::fabs(c.value[2]));
  for (const auto& [v, scale] : {std::pair{c.at(s), size}, std::pair{slope(c, s), std::fabs(c.value[1]) + 2 * s * std::fabs(c.value[2])}, std::pair{c.value[2], 0.0}})
    if (std::fabs(v) > 1e-9 * scale) return v < 0 ? -1 : 1;
  return 0;
}

double next_root(const Course& c, double from, double to) {
  double root[2];
  const int count = roots(c, root);
  for (int i = 0; i < count; ++i)
    if (root[i] > from * (1 + 1e-12) + 1e-300 && root[i] < to) return root[i];
  return to;
}

Course friction_course(const FrictionSpec& friction, const Course& speed, double direction) {
  return plus(friction.viscous * speed, friction_torque(friction.coulomb_forward, friction.coulomb_backward, 0.0, 0.0, direction));
}

// Walks one piece of the drive from the axis to the motor; `each` sees every stage's output torque. Shortens `end`.
template <class Each>
Course walk(const AxisDrive& drive, const AxisCourse& course, double s, double& end, Each each) {
  Course t = course.torque + friction_course(drive.joint_friction, course.speed, course.direction);
  double turns = 1;
  for (std::size_t i = drive.stage_count; i-- > 0;) {
    const AxisStage& stage = drive.stage[i];
    each(t, static_cast<std::int8_t>(i));
    const bool back = sign_above(t, s) * course.direction * turns < 0;
    if (course.direction != 0) end = next_root(t, s, end);
    turns *= stage.ratio;
    t = (back ? stage.gains.back : stage.gains.driving) * t + (stage.inertia * turns) * course.acceleration;
  }
  return t + (drive.rotor_inertia * turns) * course.acceleration + friction_course(drive.motor_friction, turns * course.speed, course.direction * turns);
}

// The peak curve at the motor's speed, which does not change its sign over the course: a straight span of it, shortening `end` to
// where it bends. False beyond the curve's end.
bool curve_course(const TorqueSpeedCurve& curve, Course speed, double s, double direction, double& end, Course& out) {
  if (sign_above(speed, s) < 0 || (sign_above(speed, s) == 0 && direction < 0)) speed = -1.0 * speed;
  const double w = speed.at(s), rises = slope(speed, s), hair = 1e-12 * curve.max_speed();
  for (std::size_t i = 1; i < curve.count; ++i) {
    if (rises > 0 ? w >= curve.speed[i] - hair : w > curve.speed[i] + hair) continue;
    const double tilt = (curve.torque[i] - curve.torque[i - 1]) / (curve.speed[i] - curve.speed[i - 1]);
    out = plus(tilt * speed, curve.torque[i - 1] - tilt * curve.speed[i - 1]);
    if (rises > 0) end = std::min(end, s + (curve.speed[i] - w) / rises);
    return true;
  }
  return false;
}

}  // namespace

double first_above(const Course& c, double from, double to, double tolerance) {
  if (c.at(from) > tolerance) return from;
  double root[2];
  const int count = roots(c, root);
  for (int i = 0; i < count; ++i)
    if (root[i] >= from && root[i] <= to && sign_above(c, root[i]) > 0) return root[i];
  return unlimited;
}

MotorPiece motor_piece(const AxisDrive& drive, const AxisCourse& course, double s, double cap) {
  MotorPiece piece;
  piece.end = cap;
  piece.torque = walk(drive, course, s, piece.end, [](const Course&, std::int8_t) {});
  return piece;
}

Violation first_violation(const AxisDrive& drive, const AxisCourse& course, double cap) {
  Violation found;
  const auto see = [&](const Course& torque, const Course& most, double s, std::int8_t part, CheckLimit limit) {
    const double hair = 1e-12 * (std::fabs(most.value[0]) + std::fabs(most.value[1]) * s);
    for (const double sign : {1.0, -1.0}) {
      const double at = first_above(sign * torque + -1.0 * most, s, cap, hair);
      if (at < found.at) found.at = at, found.part = part, found.limit = limit;
    }
  };
  if (drive.stated_peak < unlimited) see(course.torque, {{drive.stated_peak, 0, 0}}, 0, part_stated, CheckLimit::stated_peak_torque);
  const Violation stated = found;
  if (!drive.present) return found;
  for (double s = 0; s < cap;) {
    found = stated;
    double end = cap;
    const Course motor = walk(drive, course, s, end, [&](const Course& t, std::int8_t part) {
      const double most = drive.stage[static_cast<std::size_t>(part)].repeated_peak_torque;
      if (most < unlimited) see(t, {{most, 0, 0}}, s, part, CheckLimit::stage_peak_torque);
    });
    Course most;
    if (!curve_course(drive.peak, drive.ratio * course.speed, s, course.direction * drive.ratio, end, most)) {
      if (s < found.at) found.at = s, found.part = part_motor, found.limit = CheckLimit::motor_speed;
      return found;
    }
    see(motor, most, s, part_motor, CheckLimit::motor_peak_torque);
    if (found.at <= end) return found;  // beyond the end of the piece another parabola holds
    if (!(end > s)) end = std::nextafter(s, cap);
    s = end;
  }
  return stated;
}

}  // namespace armwright
