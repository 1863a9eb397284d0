#include "armwright/limits/refined_motion.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/motion/drive_torques.hpp"

namespace armwright {

namespace {

// One way between two rows of the given motion, in axes: speed(s) = v0 + s (a0 h + e) + s² (a1 - a0) h / 2.
struct AxisWay {
  std::array<double, max_joints> constant, slope, square, still;  // still: speeds up to this count as none

  double speed(std::size_t k, double s) const { return constant[k] + s * (slope[k] + s * square[k]); }
  bool stands(std::size_t k) const {
    return std::max({std::fabs(constant[k]), std::fabs(speed(k, 1)), std::fabs(speed(k, 0.5))}) <= still[k];
  }
};

AxisWay way_of(const Model& model, const TimedMotion& motion, std::size_t row, const std::array<double, max_joints>& still) {
  const std::size_t n = motion.joint_count;
  const double h = motion.time[row + 1] - motion.time[row];
  std::array<double, max_joints> v0, v1, a0, a1;
  axis_motion(model, &motion.speed[row * n], v0.data());
  axis_motion(model, &motion.speed[(row + 1) * n], v1.data());
  axis_motion(model, &motion.acceleration[row * n], a0.data());
  axis_motion(model, &motion.acceleration[(row + 1) * n], a1.data());
  AxisWay way;
  way.still = still;
  for (std::size_t k = 0; k < n; ++k) {
    way.constant[k] = v0[k];
    way.square[k] = 0.5 * (a1[k] - a0[k]) * h;
    way.slope[k] = v1[k] - v0[k] - way.square[k];
  }
  return way;
}

void add_zeros(const AxisWay& way, std::size_t k, std::vector<double>& cuts) {
  if (way.stands(k)) return;
  const double a = way.square[k], b = way.slope[k], c = way.constant[k], under = b * b - 4 * a * c;
  if (under < 0) return;
  const double both = -0.5 * (b + (b < 0 ? -1 : 1) * std::sqrt(under));
  for (const double root : {a != 0 ? both / a : -1, both != 0 ? c / both : -1})
    if (root > 1e-9 && root < 1 - 1e-9) cuts.push_back(root);
}

class Writer {
 public:
  Writer(const Model& model, const TimedMotion& motion) : model_(model), motion_(motion) { out_.joint_count = motion.joint_count; }

  // The part from s = from to s = to of the way after `row`, in which no axis changes its direction.
  void add(std::size_t row, const AxisWay& way, double from, double to) {
    const std::size_t n = motion_.joint_count;
    std::array<double, max_joints> direction;
    for (std::size_t k = 0; k < n; ++k) {
      const double v = way.speed(k, 0.5 * (from + to));
      direction[k] = std::fabs(v) <= way.still[k] ? 0 : v < 0 ? -1 : 1;
    }
    if (!goes_on(row, from, direction)) put(row, from, direction);
    put(row, to, direction);
  }

  void put(std::size_t row, double s, const std::array<double, max_joints>& direction) {
    const std::size_t n = motion_.joint_count, at = out_.time.size() * n, owner = std::min(row + 1, motion_.time.size() - 1);
    for (auto* each : {&out_.q, &out_.speed, &out_.acceleration, &out_.axis_speed, &out_.axis_acceleration}) each->resize(at + n);
    between_rows(motion_, row, s, &out_.q[at], &out_.speed[at], &out_.acceleration[at]);
    axis_motion(model_, &out_.speed[at], &out_.axis_speed[at]);
    axis_motion(model_, &out_.acceleration[at], &out_.axis_acceleration[at]);
    out_.direction.insert(out_.direction.end(), direction.begin(), direction.begin() + static_cast<std::ptrdiff_t>(n));
    out_.time.push_back(motion_.time[row] + s * (motion_.time[owner] - motion_.time[row]));
    out_.move.push_back(motion_.move[owner]);
    out_.load.push_back(motion_.load[owner]);
  }

  RefinedMotion out_;

 private:
  // Whether the last row written is the same instant under the same circumstances.
  bool goes_on(std::size_t row, double s, const std::array<double, max_joints>& direction) const {
    if (out_.time.empty()) return false;
    const std::size_t n = motion_.joint_count, last = (out_.time.size() - 1) * n;
    for (std::size_t k = 0; k < n; ++k)
      if (out_.direction[last + k] != direction[k]) return false;
    if (s > 0) return true;
    return out_.load.back() == motion_.load[row + 1] && out_.move.back() == motion_.move[row + 1] &&
           std::equal(&motion_.acceleration[row * n], &motion_.acceleration[row * n] + n, &out_.acceleration[last]);
  }

  const Model& model_;
  const TimedMotion& motion_;
};

std::array<double, max_joints> still_speeds(const Model& model, const TimedMotion& motion) {
  std::array<double, max_joints> still{}, v;
  for (std::size_t row = 0; row < motion.time.size(); ++row) {
    axis_motion(model, &motion.speed[row * motion.joint_count], v.data());
    for (std::size_t k = 0; k < motion.joint_count; ++k) still[k] = std::max(still[k], std::fabs(v[k]));
  }
  for (double& s : still) s = 1e-9 * s + 1e-12;
  return still;
}

}  // namespace

void between_rows(const TimedMotion& motion, std::size_t row, double s, double* q, double* speed, double* acceleration) {
  const std::size_t n = motion.joint_count, a = row * n, b = s > 0 ? a + n : a;
  const double h = s > 0 ? motion.time[row + 1] - motion.time[row] : 0;
  for (std::size_t i = 0; i < n; ++i) {
    if (s == 1) {  // a row itself, to the bit
      q[i] = motion.q[b + i], speed[i] = motion.speed[b + i], acceleration[i] = motion.acceleration[b + i];
      continue;
    }
    const double a0 = motion.acceleration[a + i], a1 = motion.acceleration[b + i], v0 = motion.speed[a + i], q0 = motion.q[a + i];
    const auto v_at = [&](double x) { return v0 + x * h * (a0 + 0.5 * x * (a1 - a0)); };
    const auto q_at = [&](double x) { return q0 + x * h * (v0 + 0.5 * x * h * (a0 + x * (a1 - a0) / 3)); };
    q[i] = q_at(s) + s * (motion.q[b + i] - q_at(1));
    speed[i] = v_at(s) + s * (motion.speed[b + i] - v_at(1));
    acceleration[i] = a0 + s * (a1 - a0);
  }
}

RefinedMotion refined_motion(const Model& model, const TimedMotion& motion, double step) {
  Writer writer(model, motion);
  const std::array<double, max_joints> still = still_speeds(model, motion);
  std::vector<double> cuts;
  for (std::size_t row = 0; row + 1 < motion.time.size(); ++row) {
    const double h = motion.time[row + 1] - motion.time[row];
    if (!(h > 0)) continue;
    const AxisWay way = way_of(model, motion, row, still);
    cuts.assign(1, 0.0);
    bool moves = false;
    for (std::size_t k = 0; k < motion.joint_count; ++k) {
      add_zeros(way, k, cuts);
      moves = moves || !way.stands(k);
    }
    const auto parts = static_cast<std::size_t>(moves ? std::ceil(h / step - 1e-9) : 1);
    for (std::size_t i = 1; i < parts; ++i) cuts.push_back(static_cast<double>(i) / static_cast<double>(parts));
    cuts.push_back(1.0);
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i)
      if (cuts[i + 1] > cuts[i]) writer.add(row, way, cuts[i], cuts[i + 1]);
  }
  if (writer.out_.time.empty() && !motion.time.empty()) writer.put(0, 0, {});
  return std::move(writer.out_);
}

}  // namespace armwright
