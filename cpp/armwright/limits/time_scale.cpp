#include <algorithm>
#include <cmath>

#include "armwright/elements/root_mean.hpp"
#include "armwright/limits/cycle_means.hpp"

namespace armwright {

namespace {

class TimeScale {
 public:
  TimeScale(const Model& model, const ScaledTorques& torques, double cap) : model_(model), torques_(torques), n_(model.joint_count) { least_.at = cap; }

  Violation solve() {
    const double cap = least_.at;
    for (std::size_t k = 0; k < n_; ++k) speeds(k);
    for (std::size_t k = 0; k < n_; ++k) peaks(k);
    for (std::size_t k = 0; k < n_; ++k) means(k);
    if (!(least_.at < cap)) least_ = {};
    return least_;
  }

 private:
  void take(double at, std::size_t k, std::int8_t part, CheckLimit limit, double time = std::numeric_limits<double>::quiet_NaN()) {
    if (at < least_.at) least_ = {at, static_cast<std::int32_t>(k), part, limit, time};
  }

  // The greatest magnitude in a column and its row.
  std::pair<double, std::size_t> greatest(const std::vector<double>& x, std::size_t k) const {
    std::pair<double, std::size_t> best{0, 0};
    for (std::size_t r = 0; r < torques_.motion.rows(); ++r)
      if (std::fabs(x[r * n_ + k]) > best.first) best = {std::fabs(x[r * n_ + k]), r};
    return best;
  }

  void speeds(std::size_t k) {
    const RefinedMotion& m = torques_.motion;
    const auto [v, at_v] = greatest(m.speed, k);
    if (v > 0) take(model_.speed[k] / v, k, part_stated, CheckLimit::joint_speed, m.time[at_v]);
    const auto [a, at_a] = greatest(m.acceleration, k);
    if (a > 0) take(std::sqrt(model_.acceleration[k] / a), k, part_stated, CheckLimit::joint_acceleration, m.time[at_a]);
    const auto [w, at_w] = greatest(m.axis_speed, k);
    const SpeedLimit limit = greatest_axis_speed(torques_.drives[k]);
    if (w > 0 && limit.part != part_none)
      take(limit.speed / w, k, limit.part, limit.part == part_motor ? CheckLimit::motor_speed : CheckLimit::stage_speed, m.time[at_w]);
  }

  void peaks(std::size_t k) {
    for (std::size_t r = 0; r < torques_.motion.rows(); ++r) {
      const Violation v = first_violation(torques_.drives[k], over_speed(torques_, r, k), least_.at);
      take(v.at, k, v.part, v.limit, torques_.motion.time[r]);
    }
  }

  void means(std::size_t k) {
    const AxisDrive& drive = torques_.drives[k];
    const CourseOf course = [&](std::size_t r) { return over_speed(torques_, r, k); };
    const auto mean = [&](const std::function<double(double, const CycleWeights&)>& over, std::int8_t part, CheckLimit limit) {
      const auto f = [&](double u) { return over(u, cycle_weights(torques_.motion, u)); };
      if (least_.at < unlimited && f(least_.at) > 0) take(first_crossing(f, least_.at), k, part, limit);
    };
    if (drive.stated_continuous < unlimited)
      mean([&](double u, const CycleWeights& w) { return rms_axis_torque(course, w, u) - drive.stated_continuous; }, part_stated, CheckLimit::stated_continuous_torque);
    if (!drive.present) return;
    mean([&](double u, const CycleWeights& w) {
      return rms_motor_torque(drive, course, w, u) - curve_torque(drive.continuous, rms_motor_speed(drive, course, w, u));
    }, part_motor, CheckLimit::motor_continuous_torque);
    double turns = 1;
    for (std::size_t s = drive.stage_count; s-- > 0;) {
      const StageSpec& stage = torques_.stages[k * max_stages + s];
      turns *= std::fabs(drive.stage[s].ratio);
      if (stage.rated_torque < unlimited)
        mean([&](double u, const CycleWeights& w) { return mean_stage_torque(drive, s, stage.life_exponent, course, w, u) - stage.rated_torque; },
             static_cast<std::int8_t>(s), CheckLimit::stage_mean_torque);
      if (stage.mean_input_speed < unlimited) mean_speed(k, s, turns, stage.mean_input_speed);
    }
  }

  // The angle stays: angle / (moving time / u + standing time) = limit.
  void mean_speed(std::size_t k, std::size_t s, double turns, double limit) {
    const RefinedMotion& m = torques_.motion;
    double angle = 0;
    for (std::size_t r = 0; r + 1 < m.rows(); ++r) angle += turns * magnitude_integral(m.axis_speed[r * n_ + k], m.axis_speed[(r + 1) * n_ + k], m.time[r + 1] - m.time[r]);
    const double standing = scaled_duration(m, unlimited), moving = m.duration() - standing, needed = angle / limit - standing;
    if (angle > 0 && needed > 0) take(moving / needed, k, static_cast<std::int8_t>(s), CheckLimit::stage_mean_speed);
  }

  const Model& model_;
  const ScaledTorques& torques_;
  std::size_t n_;
  Violation least_;
};

}  // namespace

Violation greatest_speed_factor(const Model& model, const ScaledTorques& torques, double cap) {
  return TimeScale(model, torques, cap).solve();
}

}  // namespace armwright
