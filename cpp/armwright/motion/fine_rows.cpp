#include "armwright/motion/fine_rows.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "armwright/motion/drive_torques.hpp"
#include "armwright/motion/sample.hpp"

namespace armwright {

namespace {

constexpr double shortest = 1e-5;  // s: what is less far apart is not cut

// Shares of the time between two rows at which a motion is looked at, in order; the spread ones are quarters.
struct Instants {
  struct At {
    double share;
    bool spread;
  };
  std::vector<At> at;
  std::vector<double> from, to;

  void find(const Model& model, const ChainMotion& motion, std::size_t row) {
    at.clear();
    for (const double share : {0.25, 0.5, 0.75}) at.push_back({share, true});
    const std::size_t n = model.joint_count;
    from.resize(n), to.resize(n);
    axis_motion(model, motion.path.first.data() + row * n, from.data());
    axis_motion(model, motion.path.first.data() + (row + 1) * n, to.data());
    for (std::size_t k = 0; k < n; ++k) {
      if (!(from[k] * to[k] < 0)) continue;
      const double turn = from[k] / (from[k] - to[k]);
      at.push_back({std::max(0.0, turn - 0.02), false}), at.push_back({std::min(1.0, turn + 0.02), false});
    }
    std::sort(at.begin(), at.end(), [](const At& a, const At& b) { return a.share < b.share; });
  }
};

// Where the parabola through three quarters turns between the rows, its size there.
double turning_value(const std::array<double, 3>& value) {
  const double slope = 0.5 * (value[2] - value[0]), bend = 0.5 * (value[2] + value[0]) - value[1];  // by quarters from the middle
  return std::fabs(slope) < 4 * std::fabs(bend) ? std::fabs(value[1] - slope * slope / (4 * bend)) : 0;
}

// What may be used about the three quarters between two rows.
double peak_about(const PathLimits& limits, const FineRows& fine, const std::array<std::size_t, 3>& quarter) {
  std::array<double, 3> use{};
  for (std::size_t k = 0; k < 3; ++k) use[k] = fine.use[quarter[k]].use;
  double peak = turning_value(use);
  for (std::size_t i = 0; i < limits.joint_count; ++i) {
    std::array<double, 3> speed{}, acceleration{};
    for (std::size_t k = 0; k < 3; ++k) {
      const std::size_t row = quarter[k], at = row * limits.joint_count + i;
      speed[k] = limits.first[at] * std::sqrt(fine.x[row]) / limits.speed[at];
      acceleration[k] = (limits.first[at] * fine.u[row] + limits.second[at] * fine.x[row]) / limits.acceleration[at];
    }
    peak = std::max({peak, turning_value(speed), turning_value(acceleration)});
  }
  return peak;
}

void set_missed(const ChainMotion& motion, FineRows& fine) {
  const std::size_t n = motion.path.joint_count;
  const auto speed = [&](const PathRows& path, std::size_t at, double x) { return path.first[at] * std::sqrt(x); };
  const auto acceleration = [&](const PathRows& path, std::size_t at, double x, double u) { return path.first[at] * u + path.second[at] * x; };
  TimedMotion rows;
  rows.joint_count = n;
  std::vector<double> fastest(n, 0.0), quickest(n, 0.0);
  for (std::size_t row = 0; row < motion.time.size(); ++row)
    for (std::size_t i = 0, at = row * n; i < n; ++i, ++at) {
      rows.speed.push_back(speed(motion.path, at, motion.x[row]));
      rows.acceleration.push_back(acceleration(motion.path, at, motion.x[row], motion.u[row]));
      fastest[i] = std::max(fastest[i], std::fabs(rows.speed.back())), quickest[i] = std::max(quickest[i], std::fabs(rows.acceleration.back()));
    }
  rows.time = motion.time, rows.q = motion.path.q, rows.move = motion.path.move;
  rows.load.assign(motion.time.size(), 0), rows.limit = rows.limit_axis = rows.load;
  const TimedMotion resampled = motion_at(rows, fine.time);
  // A joint that next to stands is not told by its rounding.
  const double least_fast = 1e-3 * *std::max_element(fastest.begin(), fastest.end()), least_quick = 1e-3 * *std::max_element(quickest.begin(), quickest.end());
  for (std::size_t row = 0; row < fine.after.size(); ++row) {
    double off = 0;
    for (std::size_t i = 0, at = row * n; i < n; ++i, ++at)
      off = std::max({off, std::fabs(resampled.speed[at] - speed(fine.path, at, fine.x[row])) / std::max(fastest[i], least_fast),
                      std::fabs(resampled.acceleration[at] - acceleration(fine.path, at, fine.x[row], fine.u[row])) / std::max(quickest[i], least_quick)});
    fine.missed.push_back(off);
  }
}

}  // namespace

PathStop fine_rows(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, const ChainMotion& motion,
                   const std::vector<std::uint8_t>& look, FineRows& out) {
  out = {};
  Instants instants;
  std::vector<double> s;
  for (std::size_t row = 0; row + 1 < motion.time.size(); ++row) {
    const double h = motion.time[row + 1] - motion.time[row];
    if (!(h > 0) || (!look.empty() && look[row] == 0)) continue;
    instants.find(model, motion, row);
    const double rate = std::sqrt(motion.x[row]), u = motion.u[row], change = motion.u[row + 1] - u;
    for (const auto& [share, spread] : instants.at) {
      const double t = share * h, now = std::max(0.0, rate + t * (u + 0.5 * share * change));
      const double at = motion.path.s[row] + t * (rate + t * (0.5 * u + share * change / 6));
      s.push_back(std::clamp(at, motion.path.s[row], motion.path.s[row + 1]));
      out.time.push_back(motion.time[row] + t);
      out.x.push_back(now * now);
      out.u.push_back(u + share * change);
      out.after.push_back(row);
      out.spread.push_back(spread);
    }
  }
  if (const PathStop stop = sample_chain(model, inverse, chain, s, out.path); !stop.good()) return stop;
  out.path.s = std::move(s);
  set_uses(model, cycle, out);
  set_missed(motion, out);
  return {};
}

void set_uses(const Model& model, const CycleSpec& cycle, FineRows& fine) {
  const PathLimits limits = path_limits(model, fine.path, cycle);
  fine.use.clear();
  for (std::size_t row = 0; row < fine.path.rows(); ++row) fine.use.push_back(most_used(limits, row, fine.x[row], fine.u[row]));
  fine.peak.assign(fine.after.size(), 0.0);
  std::array<std::size_t, 3> quarter{};
  for (std::size_t row = 0, count = 0; row < fine.after.size(); ++row) {
    if (!fine.spread[row]) continue;
    quarter[count] = row;
    count = (count + 1) % 3;
    if (count == 0) fine.peak[row] = peak_about(limits, fine, quarter);
  }
}

std::size_t refine_grid(const FineRows& fine, double passed, double missed, ChainPath& chain) {
  std::vector<std::size_t> add;
  for (std::size_t from = 0, to = 0; from < fine.after.size(); from = to) {
    double most = 0, off = 0;
    for (to = from; to < fine.after.size() && fine.after[to] == fine.after[from]; ++to) most = std::max(most, fine.use[to].use), off = std::max(off, fine.missed[to]);
    if (most <= 1 + passed && off <= missed) continue;
    std::size_t quarters = 0;  // the middle, and where an axis turns back
    for (std::size_t row = from; row < to; ++row)
      if (!fine.spread[row] || ++quarters == 2) add.push_back(row);
  }
  if (add.empty()) return 0;
  PathRows merged;
  const double close = 1e-12 * chain.rows.s.back();
  std::size_t count = 0, next = 0;
  for (std::size_t row = 0; row < chain.rows.rows(); ++row) {
    for (; next < add.size() && fine.path.s[add[next]] < chain.rows.s[row] - close; ++next) {
      if (!merged.s.empty() && fine.path.s[add[next]] <= merged.s.back() + close) continue;
      append_row(fine.path, add[next], merged), ++count;
    }
    append_row(chain.rows, row, merged);
    while (next < add.size() && fine.path.s[add[next]] <= chain.rows.s[row] + close) ++next;
  }
  chain.rows = std::move(merged);
  return count;
}

double kept_square(const Model& model, const CycleSpec& cycle, const FineRows& fine, std::size_t& worst) {
  double kept = 1;
  PathRows passed;
  std::vector<std::size_t> rows;
  for (std::size_t row = 0; row < fine.path.rows(); ++row)
    if (fine.use[row].use > 1) append_row(fine.path, row, passed), rows.push_back(row);
  if (rows.empty()) return 1;
  const PathLimits limits = path_limits(model, passed, cycle);
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const auto over = [&](double square) { return most_used(limits, k, square * fine.x[rows[k]], square * fine.u[rows[k]]).use - 1; };
    double high = kept, above = over(high);
    if (above <= 0) continue;
    worst = rows[k];
    // The greatest factor that is kept, from below: bracketed, aiming by the line through both ends.
    double low = 0.5 * high, below = over(low);
    while (below > 0 && low > 1e-9) high = low, above = below, low *= 0.5, below = over(low);
    if (below > 0) return -1;
    for (int step = 0; step < 60 && high - low > 1e-10 * high; ++step) {
      double guess = low + (high - low) * below / (below - above);
      if (step % 4 == 3 || !(guess > low && guess < high)) guess = 0.5 * (low + high);
      const double off = over(guess);
      (off > 0 ? high : low) = guess;
      (off > 0 ? above : below) = off;
      if (off <= 0 && off > -1e-9) break;
    }
    kept = low;
  }
  return kept;
}

ChainMotion with_fine_rows(const ChainMotion& motion, const FineRows& fine) {
  ChainMotion out;
  out.duration = motion.duration;
  const auto add = [&](const PathRows& path, std::size_t row, double time, double x, double u, const NamedLimit& limit) {
    append_row(path, row, out.path);
    out.time.push_back(time), out.x.push_back(x), out.u.push_back(u), out.limit.push_back(limit);
  };
  std::size_t next = 0;
  for (std::size_t row = 0; row < motion.time.size(); ++row) {
    add(motion.path, row, motion.time[row], motion.x[row], motion.u[row], motion.limit[row]);
    for (; next < fine.after.size() && fine.after[next] == row; ++next)
      if (fine.spread[next]) add(fine.path, next, fine.time[next], fine.x[next], fine.u[next], motion.limit[row]);
  }
  return out;
}

void miss_peaks(double most, FineRows& fine) {
  for (std::size_t row = 0; row < fine.peak.size(); ++row)
    if (fine.peak[row] > most) fine.missed[row] = 1;
}

void add_rows(const FineRows& fine, double missed, ChainMotion& motion, std::vector<std::uint8_t>& added) {
  FineRows more;
  more.path.joint_count = fine.path.joint_count;
  std::vector<std::uint8_t> cut(motion.time.size(), 0);
  for (std::size_t from = 0, to = 0; from < fine.after.size(); from = to) {
    double off = 0;
    for (to = from; to < fine.after.size() && fine.after[to] == fine.after[from]; ++to) off = std::max(off, fine.missed[to]);
    const double h = motion.time[fine.after[from] + 1] - motion.time[fine.after[from]];
    if (off <= missed || h < shortest) continue;
    cut[fine.after[from]] = 1;
    for (std::size_t row = from; row < to; ++row) {
      if (!fine.spread[row]) continue;
      append_row(fine.path, row, more.path);
      more.time.push_back(fine.time[row]), more.x.push_back(fine.x[row]), more.u.push_back(fine.u[row]);
      more.after.push_back(fine.after[row]), more.spread.push_back(1);
    }
  }
  added.clear();
  if (more.after.empty()) return;
  for (const std::uint8_t one : cut) added.insert(added.end(), one != 0 ? 4 : 1, one);
  motion = with_fine_rows(motion, more);
}

}  // namespace armwright
