#include <cmath>
#include <queue>

#include "armwright/elements/root_mean.hpp"
#include "armwright/limits/cycle_means.hpp"

namespace armwright {

namespace {

// The load factor at which the motor's root mean square torque passes `most`. Between the factors at which a stage's power
// changes its direction somewhere, the mean square is a parabola; those factors are taken in order.
double rms_factor(const AxisDrive& drive, const CourseOf& course, const CycleWeights& weights, double most, double cap) {
  const std::size_t rows = weights.span.size() + 1;
  std::vector<MotorPiece> piece(rows);
  using Bend = std::pair<double, std::size_t>;
  std::priority_queue<Bend, std::vector<Bend>, std::greater<>> bends;
  const auto set = [&](std::size_t r, double s) {
    piece[r] = motor_piece(drive, course(r), s, cap);
    if (piece[r].end < cap) bends.emplace(piece[r].end, r);
  };
  Course sum;
  const auto add = [&](std::size_t r, double sign) {
    if (r + 1 >= rows || !(weights.span[r] > 0)) return;
    const auto &a = piece[r].torque.value, &b = piece[r + 1].torque.value;
    const double w = sign * weights.span[r];
    sum.value[0] += square_integral(a[0], b[0], w);
    sum.value[1] += 2 * product_integral(a[0], b[0], a[1], b[1], w);
    sum.value[2] += square_integral(a[1], b[1], w);
  };
  for (std::size_t r = 0; r < rows; ++r) set(r, 0);
  for (std::size_t r = 0; r + 1 < rows; ++r) add(r, 1);
  const double allowed = most * most * weights.total;
  for (double s = 0; s < cap;) {
    const double next = bends.empty() ? cap : bends.top().first;
    const double at = first_above({{sum.value[0] - allowed, sum.value[1], sum.value[2]}}, s, next, 1e-12 * allowed);
    if (at <= next && at < unlimited) return at;
    while (!bends.empty() && bends.top().first <= next) {
      const std::size_t r = bends.top().second;
      bends.pop();
      add(r, -1);
      if (r > 0) add(r - 1, -1);
      set(r, next);
      if (piece[r].end <= next) piece[r].end = cap;
      add(r, 1);
      if (r > 0) add(r - 1, 1);
    }
    s = next;
  }
  return unlimited;
}

double square_factor(const CourseOf& course, const CycleWeights& weights, double most, double cap) {
  Course sum;
  for (std::size_t r = 0; r < weights.span.size(); ++r) {
    const auto a = course(r).torque.value, b = course(r + 1).torque.value;
    sum.value[0] += square_integral(a[0], b[0], weights.span[r]);
    sum.value[1] += 2 * product_integral(a[0], b[0], a[1], b[1], weights.span[r]);
    sum.value[2] += square_integral(a[1], b[1], weights.span[r]);
  }
  const double allowed = most * most * weights.total;
  sum.value[0] -= allowed;
  return first_above(sum, 0, cap, 1e-12 * allowed);
}

void take(Violation& least, double at, std::size_t axis, std::int8_t part, CheckLimit limit) {
  if (at < least.at) least = {at, static_cast<std::int32_t>(axis), part, limit, std::numeric_limits<double>::quiet_NaN()};
}

}  // namespace

LoadScale greatest_load(const ScaledTorques& torques, double u, double cap) {
  LoadScale out;
  const std::size_t n = torques.motion.joint_count, rows = torques.motion.rows();
  for (std::size_t k = 0; k < n; ++k)
    for (std::size_t r = 0; r < rows; ++r) {
      Violation v = first_violation(torques.drives[k], over_load(torques, r, k, u), std::fmin(out.peak.at, cap));
      if (v.at < out.peak.at) out.peak = v, out.peak.axis = static_cast<std::int32_t>(k), out.peak.time = torques.motion.time[r];
    }
  const CycleWeights weights = cycle_weights(torques.motion, u);
  for (std::size_t k = 0; k < n; ++k) {
    const AxisDrive& drive = torques.drives[k];
    Violation& least = out.continuous;
    const CourseOf course = [&](std::size_t r) { return over_load(torques, r, k, u); };
    // At standstill speeds still weigh the torques by their proportions, as in the slowest motion.
    const CourseOf worn = [&](std::size_t r) { return over_load(torques, r, k, u > 0 ? u : 1e-9); };
    const auto limit = [&] { return std::fmin(cap, least.at); };
    if (drive.stated_continuous < unlimited) take(least, square_factor(course, weights, drive.stated_continuous, limit()), k, part_stated, CheckLimit::stated_continuous_torque);
    if (!drive.present) continue;
    const double most = curve_torque(drive.continuous, rms_motor_speed(drive, course, weights, 0));
    take(least, rms_factor(drive, course, weights, most, limit()), k, part_motor, CheckLimit::motor_continuous_torque);
    for (std::size_t s = 0; s < drive.stage_count; ++s) {
      const StageSpec& stage = torques.stages[k * max_stages + s];
      if (!(stage.rated_torque < unlimited)) continue;
      const auto over = [&](double x) { return mean_stage_torque(drive, s, stage.life_exponent, worn, weights, x) - stage.rated_torque; };
      const double up_to = limit();
      if (!(up_to < unlimited) || over(up_to) <= 0) continue;
      take(least, first_crossing(over, up_to), k, static_cast<std::int8_t>(s), CheckLimit::stage_mean_torque);
    }
  }
  return out;
}

}  // namespace armwright
