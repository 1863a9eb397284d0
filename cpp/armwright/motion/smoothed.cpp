#include "armwright/motion/smoothed.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "armwright/motion/fine_rows.hpp"

namespace armwright {

namespace {

// s, ṡ and the integral of s over time of a motion with constant s̈ between rows.
class Told {
 public:
  explicit Told(const ChainMotion& motion) : motion_(motion) {
    integral_.push_back(0);
    for (std::size_t row = 0; row + 1 < motion.time.size(); ++row) {
      const double h = motion.time[row + 1] - motion.time[row];
      integral_.push_back(integral_.back() + h * (motion.path.s[row] + h * (std::sqrt(motion.x[row]) / 2 + h * motion.u[row] / 6)));
    }
  }
  struct State {
    double integral, position, speed;
  };
  State at(double time) const {
    const auto& t = motion_.time;
    const double end = t.back(), last = motion_.path.s.back();
    if (time <= 0) return {0, 0, 0};
    if (time >= end) return {integral_.back() + (time - end) * last, last, 0};
    const auto row = static_cast<std::size_t>(std::upper_bound(t.begin(), t.end(), time) - t.begin()) - 1;
    const double d = time - t[row], s = motion_.path.s[row], v = std::sqrt(motion_.x[row]), u = motion_.u[row];
    return {integral_[row] + d * (s + d * (v / 2 + d * u / 6)), s + d * (v + d * u / 2), v + d * u};
  }

 private:
  const ChainMotion& motion_;
  std::vector<double> integral_;
};

// Where the mean over the window is: s, ṡ, s̈.
struct Mean {
  const Told& told;
  double window;
  std::array<double, 3> at(double time) const {
    const auto a = told.at(time), b = told.at(time - window);
    return {(a.integral - b.integral) / window, std::max(0.0, (a.position - b.position) / window), (a.speed - b.speed) / window};
  }
  // When it passes a place.
  double when(double s, double end) const {
    double low = 0, high = end;
    for (int step = 0; step < 60; ++step) {
      const double middle = 0.5 * (low + high);
      (at(middle)[0] < s ? low : high) = middle;
    }
    return high;
  }
};

// In how long the jerk limits let the greatest acceleration along the way turn round.
double turning_time(const Model& model, const CycleSpec& cycle, const ChainMotion& motion) {
  const std::size_t n = model.joint_count;
  std::vector<double> most(n, 0.0);
  for (std::size_t row = 0; row < motion.time.size(); ++row) {
    const double share = cycle.moves[static_cast<std::size_t>(motion.path.move[row])].speed_share;
    for (std::size_t i = 0, at = row * n; i < n; ++i, ++at)
      most[i] = std::max(most[i], std::fabs(motion.path.first[at] * motion.u[row]) / (share * share * share * model.jerk[i]));
  }
  return 2 * *std::max_element(most.begin(), most.end());
}

}  // namespace

PathStop smoothed_motion(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const ChainMotion& motion, double window, ChainMotion& out) {
  out = {};
  const double end = motion.time.back(), close = 1e-7 * (end + window);
  std::vector<double> times;
  for (const double late : {0.0, window})
    for (const double time : motion.time) times.push_back(time + late);
  const Told told(motion);
  const Mean mean{told, window};
  for (const Corner& corner : chain.corners)  // there the way's third derivative jumps
    for (const double place : {corner.offset, corner.offset + corner.extent}) times.push_back(mean.when(place, end + window));
  std::sort(times.begin(), times.end());
  std::vector<double> s;
  for (const double time : times) {
    if (!out.time.empty() && time - out.time.back() < close) continue;
    const auto [place, rate, change] = mean.at(time);
    s.push_back(std::clamp(place, s.empty() ? 0 : s.back(), motion.path.s.back()));
    out.time.push_back(time), out.x.push_back(rate * rate), out.u.push_back(change);
  }
  out.time.back() = out.duration = end + window;
  s.front() = 0, s.back() = motion.path.s.back();
  out.x.front() = out.u.front() = out.x.back() = out.u.back() = 0;
  if (const PathStop stop = sample_chain(model, inverse, chain, s, out.path); !stop.good()) return stop;
  out.path.s = std::move(s);
  out.limit.resize(out.time.size());
  return {};
}

double smoothed_slowing(const Model& model, const CycleSpec& cycle, const ChainMotion& motion, NamedLimit& why) {
  const double k = profile_slowing(model, cycle, true, motion, why);
  FineRows rows;
  rows.path = motion.path, rows.x = motion.x, rows.u = motion.u;
  set_uses(model, cycle, rows);
  std::size_t worst = 0;
  const double kept = kept_square(model, cycle, rows, worst);
  if (kept < 0) return unlimited;
  if (1 / std::sqrt(kept) <= k) return k;
  why = rows.use[worst];
  return 1 / std::sqrt(kept);
}

ChainMotion quickest_smoothed(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, const ChainMotion& optimal) {
  ChainMotion best;
  double least = unlimited;
  const auto take = [&](double window) {
    ChainMotion motion;
    NamedLimit why;
    if (!(window > 0) || !smoothed_motion(model, inverse, chain, optimal, window, motion).good()) return unlimited;
    const double k = smoothed_slowing(model, cycle, motion, why), time = k * motion.duration;
    if (time < least) {
      slow_down(k, {}, motion);
      std::fill(motion.limit.begin(), motion.limit.end(), k > 1 ? why : NamedLimit{MotionLimit::joint_jerk, -1, 1});
      best = std::move(motion), least = time;
    }
    return time;
  };
  // The time over the window has several dips: a coarse look at all, then halves about the least of them.
  const double widest = std::min(2 * turning_time(model, cycle, optimal), 2 * optimal.duration);
  double window = widest, here = unlimited;
  for (int thirds = 0; thirds < 16; ++thirds) {
    const double tried = widest * std::exp2(-thirds / 3.0);
    if (const double time = take(tried); time < here) here = time, window = tried;
  }
  for (double step = 1.0 / 6; step > 0.03; step *= 0.5) {
    const double less = window * std::exp2(-step), more = window * std::exp2(step);
    if (const double time = take(less); time < here) here = time, window = less;
    else if (const double other = take(more); other < here) here = other, window = more;
  }
  return best;
}

}  // namespace armwright
