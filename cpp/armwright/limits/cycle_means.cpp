#include "armwright/limits/cycle_means.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/elements/reducer_life.hpp"
#include "armwright/elements/root_mean.hpp"

namespace armwright {

namespace {

// Root mean square of what `value` gives at every row.
template <class Value>
double rms_of(const CycleWeights& weights, Value value) {
  double sum = 0, before = value(0);
  for (std::size_t r = 0; r < weights.span.size(); ++r) {
    const double after = value(r + 1);
    sum += square_integral(before, after, weights.span[r]);
    before = after;
  }
  return root_mean_square(sum, weights.total);
}

}  // namespace

CycleWeights cycle_weights(const RefinedMotion& motion, double u) {
  CycleWeights out;
  const std::size_t n = motion.joint_count;
  bool any_moves = false;
  const auto moves = [&](std::size_t r) {
    return std::any_of(&motion.direction[r * n], &motion.direction[r * n] + n, [](double d) { return d != 0; });
  };
  for (std::size_t r = 0; r + 1 < motion.rows(); ++r) any_moves = any_moves || (moves(r) && motion.time[r + 1] > motion.time[r]);
  for (std::size_t r = 0; r + 1 < motion.rows(); ++r) {
    const double h = motion.time[r + 1] - motion.time[r];
    out.span.push_back(!any_moves ? h : moves(r) ? (u > 0 ? h / u : h) : (u > 0 ? h : 0));
    out.total += out.span.back();
  }
  return out;
}

double rms_motor_torque(const AxisDrive& drive, const CourseOf& course, const CycleWeights& weights, double s) {
  return rms_of(weights, [&](std::size_t r) { return state_at(drive, course(r), s).motor_torque; });
}

double rms_motor_speed(const AxisDrive& drive, const CourseOf& course, const CycleWeights& weights, double s) {
  return rms_of(weights, [&](std::size_t r) { return drive.ratio * course(r).speed.at(s); });
}

double rms_axis_torque(const CourseOf& course, const CycleWeights& weights, double s) {
  return rms_of(weights, [&](std::size_t r) { return course(r).torque.at(s); });
}

double mean_stage_torque(const AxisDrive& drive, std::size_t stage, double exponent, const CourseOf& course, const CycleWeights& weights, double s) {
  double wear = 0, turned = 0, ratio = 1;
  for (std::size_t i = drive.stage_count; i-- > stage;) ratio *= drive.stage[i].ratio;
  const auto of_row = [&](std::size_t r) {
    const AxisCourse c = course(r);
    // At factor 0 speeds are none, but their proportions still weigh the torques: those of the course's slope count.
    const double speed = s > 0 || c.speed.value[0] != 0 ? c.speed.at(s) : c.speed.value[1];
    return std::pair{state_at(drive, c, s).stage_torque[stage], ratio * speed};
  };
  auto [torque, speed] = of_row(0);
  for (std::size_t r = 0; r < weights.span.size(); ++r) {
    const auto [next, faster] = of_row(r + 1);
    wear += wear_integral(torque, next, speed, faster, exponent, weights.span[r]);
    turned += magnitude_integral(speed, faster, weights.span[r]);
    torque = next, speed = faster;
  }
  if (turned > 0) return mean_powered_torque(wear, turned, exponent);
  return rms_of(weights, [&](std::size_t r) { return of_row(r).first; });
}

double first_crossing(const std::function<double(double)>& f, double cap) {
  double a = 0, fa = f(0);
  if (fa > 0) return 0;
  double b = cap, fb = 1;
  for (int i = 1; i <= 16; ++i) {
    b = cap * i / 16;
    fb = f(b);
    if (fb > 0) break;
    a = b, fa = fb;
  }
  if (!(fb > 0)) return unlimited;
  for (int i = 0; i < 100 && b - a > 1e-12 * b; ++i) {
    const double c = std::clamp(b - fb * (b - a) / (fb - fa), a + 1e-13 * b, b - 1e-13 * b), fc = f(c);
    if (fc > 0) {
      b = c, fb = fc, fa *= 0.5;
    } else {
      a = c, fa = fc, fb *= 0.5;
    }
    if (fa == 0) return a;
  }
  return a;
}

}  // namespace armwright
