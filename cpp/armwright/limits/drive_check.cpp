#include "armwright/limits/drive_check.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/elements/inertia_ratio.hpp"
#include "armwright/elements/reducer_life.hpp"
#include "armwright/elements/root_mean.hpp"

namespace armwright {

namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

// One column of rows × stride.
struct Column {
  const double* first;
  std::size_t stride;
  double operator[](std::size_t row) const { return first[row * stride]; }
};

struct Worst {
  double share = 0, time = unknown;
  void see(double load, double allowed, double at) {
    const double s = load == 0 ? 0 : load / allowed;
    if (s > share || std::isnan(time)) share = s, time = at;
  }
};

class Checker {
 public:
  Checker(const Model& model, const DrivenMotion& driven) : model_(model), driven_(driven), time_(driven.motion.time), n_(driven.motion.joint_count) {}

  AxisCheck check(std::size_t k, bool repeated, std::vector<Share>& shares) {
    axis_ = static_cast<std::int32_t>(k);
    shares_ = &shares;
    AxisCheck out{};
    out.motor = motor(k, repeated);
    if (driven_.drives[k].present)
      for (std::size_t s = 0; s < driven_.drives[k].stage_count; ++s) out.stage[s] = stage(k, s);
    stated(k);
    of_joint(k, driven_.motion.speed, model_.speed[k], CheckLimit::joint_speed);
    of_joint(k, driven_.motion.acceleration, model_.acceleration[k], CheckLimit::joint_acceleration);
    return out;
  }

 private:
  template <class Each>
  void each_span(Each each) const {
    for (std::size_t r = 0; r + 1 < time_.size(); ++r)
      if (time_[r + 1] > time_[r]) each(r, time_[r + 1] - time_[r]);
  }

  double mean_square(const Column& x) const {
    double sum = 0;
    each_span([&](std::size_t r, double h) { sum += square_integral(x[r], x[r + 1], h); });
    return root_mean_square(sum, driven_.motion.duration());
  }

  double turned(const Column& speed) const {
    double sum = 0;
    each_span([&](std::size_t r, double h) { sum += magnitude_integral(speed[r], speed[r + 1], h); });
    return sum;
  }

  double mean_of(double integral) const { return driven_.motion.duration() > 0 ? integral / driven_.motion.duration() : 0; }

  Worst greatest(const Column& x, double allowed) const {
    Worst worst;
    for (std::size_t r = 0; r < time_.size(); ++r) worst.see(std::fabs(x[r]), allowed, time_[r]);
    return worst;
  }

  void note(std::int8_t part, CheckLimit limit, double share, double time) const { shares_->push_back({axis_, part, limit, share, time}); }

  MotorCheck motor(std::size_t k, bool repeated) const {
    const AxisDrive& drive = driven_.drives[k];
    const Column torque{&driven_.motor_torque[k], n_}, speed{&driven_.motor_speed[k], n_};
    std::vector<DutySpan> history;
    each_span([&](std::size_t r, double h) { history.push_back({h, torque[r], torque[r + 1], speed[r], speed[r + 1]}); });
    MotorCheck out{};
    out.duty = duty_of(history, repeated);
    out.rms_torque = out.duty.rms_torque;
    out.mean_speed = out.duty.mean_speed;
    out.rms_speed = out.duty.rms_speed;
    out.greatest_speed = greatest(speed, 1).share;
    out.peak_torque = greatest(torque, 1).share;
    out.continuous_torque = curve_torque(drive.continuous, out.rms_speed);
    out.least_inertia_ratio = out.greatest_inertia_ratio = out.worst_time = unknown;
    if (!drive.present) return out;
    Worst worst;
    for (std::size_t r = 0; r < time_.size(); ++r) worst.see(std::fabs(torque[r]), curve_torque(drive.peak, speed[r]), time_[r]);
    out.worst_time = worst.time;
    note(part_motor, CheckLimit::motor_peak_torque, worst.share, worst.time);
    note(part_motor, CheckLimit::motor_continuous_torque, out.rms_torque == 0 ? 0 : out.rms_torque / out.continuous_torque, unknown);
    const Worst fastest = greatest(speed, drive.peak.max_speed());
    note(part_motor, CheckLimit::motor_speed, fastest.share, fastest.time);
    return out;
  }

  StageCheck stage(std::size_t k, std::size_t s) const {
    const StageSpec& spec = model_.drive[k].stage[s];
    const Column torque{&driven_.stage_torque[k * max_stages + s], n_ * max_stages}, speed{&driven_.stage_speed[k * max_stages + s], n_ * max_stages};
    const auto part = static_cast<std::int8_t>(s);
    StageCheck out{};
    const Worst peak = greatest(torque, spec.repeated_peak_torque), fastest = greatest(speed, spec.max_input_speed);
    out.peak_torque = greatest(torque, 1).share;
    out.rms_torque = mean_square(torque);
    out.greatest_input_speed = greatest(speed, 1).share;
    double wear = 0;
    each_span([&](std::size_t r, double h) { wear += wear_integral(torque[r], torque[r + 1], speed[r], speed[r + 1], spec.life_exponent, h); });
    const double turns = turned(speed);
    out.mean_input_speed = mean_of(turns);
    out.mean_torque = mean_powered_torque(wear, turns, spec.life_exponent);
    out.life = spec.rated_life > 0 ? reducer_life(spec.rated_life, spec.rated_input_speed, spec.rated_torque, out.mean_input_speed, out.mean_torque, spec.life_exponent) : unknown;
    past_peaks(torque, speed, spec.repeated_peak_torque, out);
    if (std::isfinite(spec.repeated_peak_torque)) note(part, CheckLimit::stage_peak_torque, peak.share, peak.time);
    if (std::isfinite(spec.rated_torque)) note(part, CheckLimit::stage_mean_torque, (turns > 0 ? out.mean_torque : out.rms_torque) / spec.rated_torque, unknown);
    if (std::isfinite(spec.max_input_speed)) note(part, CheckLimit::stage_speed, fastest.share, fastest.time);
    if (std::isfinite(spec.mean_input_speed)) note(part, CheckLimit::stage_mean_speed, out.mean_input_speed / spec.mean_input_speed, unknown);
    return out;
  }

  void past_peaks(const Column& torque, const Column& speed, double allowed, StageCheck& out) const {
    out.allowed_peaks = unknown;
    double lasted = 0, fastest = 0;
    bool past = false;
    each_span([&](std::size_t r, double h) {
      const double a = std::fabs(torque[r]), b = std::fabs(torque[r + 1]);
      const double beyond = std::min(a, b) > allowed ? h : std::max(a, b) > allowed ? h * (std::max(a, b) - allowed) / std::fabs(b - a) : 0;
      if (beyond > 0 && !past) ++out.past_peaks, lasted = fastest = 0;
      past = beyond > 0;
      if (!past) return;
      out.past_peak_time += beyond;
      lasted += beyond;
      fastest = std::max({fastest, std::fabs(speed[r]), std::fabs(speed[r + 1])});
      const double count = momentary_peaks(fastest, lasted);
      if (!(count >= out.allowed_peaks)) out.allowed_peaks = count;
    });
  }

  void stated(std::size_t k) const {
    const Column torque{&driven_.axis_torque[k], n_};
    const AxisDrive& drive = driven_.drives[k];
    if (std::isfinite(drive.stated_peak)) {
      const Worst worst = greatest(torque, drive.stated_peak);
      note(part_stated, CheckLimit::stated_peak_torque, worst.share, worst.time);
    }
    if (std::isfinite(drive.stated_continuous)) note(part_stated, CheckLimit::stated_continuous_torque, mean_square(torque) / drive.stated_continuous, unknown);
  }

  void of_joint(std::size_t k, const std::vector<double>& values, double allowed, CheckLimit limit) const {
    if (!std::isfinite(allowed)) return;
    const Worst worst = greatest({&values[k], n_}, allowed);
    note(part_stated, limit, worst.share, worst.time);
  }

  const Model& model_;
  const DrivenMotion& driven_;
  const std::vector<double>& time_;
  std::size_t n_;
  std::int32_t axis_ = 0;
  std::vector<Share>* shares_ = nullptr;
};

}  // namespace

DriveCheck drive_check(const Model& model, const DrivenMotion& driven, std::span<const double> inertia, bool repeated) {
  const std::size_t n = model.joint_count;
  DriveCheck out;
  Checker checker(model, driven);
  for (std::size_t k = 0; k < n; ++k) {
    out.axis.push_back(checker.check(k, repeated, out.shares));
    MotorCheck& motor = out.axis.back().motor;
    if (inertia.empty() || !driven.drives[k].present || !(model.drive[k].inertia > 0)) continue;
    double least = unlimited, greatest = 0;
    for (std::size_t at = k; at < inertia.size(); at += n) least = std::min(least, inertia[at]), greatest = std::max(greatest, inertia[at]);
    motor.least_inertia_ratio = inertia_ratio(least, driven.drives[k].ratio, model.drive[k].inertia);
    motor.greatest_inertia_ratio = inertia_ratio(greatest, driven.drives[k].ratio, model.drive[k].inertia);
  }
  out.weakest = -1;
  for (std::size_t i = 0; i < out.shares.size(); ++i)
    if (out.weakest < 0 || out.shares[i].share > out.shares[static_cast<std::size_t>(out.weakest)].share) out.weakest = static_cast<std::int32_t>(i);
  return out;
}

}  // namespace armwright
