#include "armwright/limits/holding.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include "armwright/limits/axis_sum.hpp"

namespace armwright {

namespace {

constexpr double endless = std::numeric_limits<double>::infinity();

struct Box {
  double bound;
  JointRow middle;
  std::array<std::uint8_t, max_joints> halvings;
  std::uint8_t cut;    // the joint whose range counts most
  std::int8_t sign;    // which way the torque is looked for
  bool operator<(const Box& other) const { return bound < other.bound; }
};

double half_width(const AxisSum& sum, const Box& box, std::size_t j) {
  return std::ldexp(0.5 * (sum.terms.high[j] - sum.terms.low[j]), -box.halvings[j]);
}

// Torque in the middle of a box, signed; sets the box' bound and where to cut it.
double look_into(const AxisSum& sum, Box& box) {
  const std::size_t n = sum.model.joint_count;
  HeldTorques held;
  held_torques(sum.model, sum.load, box.middle.data(), held);
  JointRow slope{}, half;
  double value = 0, with_intervals = 0, spring_bend[max_joints] = {}, spring_slope[max_joints] = {};
  for (std::size_t j = 0; j < n; ++j) half[j] = half_width(sum, box, j);
  for (std::size_t i = 0; i < n; ++i) {
    if (sum.weight[i] == 0) continue;
    const double w = box.sign * sum.weight[i];
    value += w * held.torque[i];
    for (std::size_t j = 0; j < n; ++j) slope[j] += w * held.slope[i * n + j];
    for (const SpringAtJoint& spring : sum.springs[i]) {
      const SpringRange range = spring_range(spring, box.middle[i], half[i]);
      value -= w * range.value;
      spring_slope[i] -= w * range.slope;
      spring_bend[i] += std::fabs(w) * range.bend;
      with_intervals += (w > 0 ? -w * range.least : -w * range.greatest) + w * range.value;
    }
  }
  double plain = 0, with_slopes = 0, most = -1;
  for (std::size_t j = 0; j < n; ++j) {
    double bent = 0;
    for (std::size_t k = 0; k < n; ++k) bent += sum.bend[j * n + k] * half[k];
    const double by_weights = half[j] * (std::fabs(slope[j]) + 0.5 * bent);
    const double with_spring = half[j] * (std::fabs(slope[j] + spring_slope[j]) + 0.5 * (bent + spring_bend[j] * half[j]));
    plain += by_weights;
    with_slopes += half[j] > 0 ? with_spring : 0;
    const double counts = spring_slope[j] != 0 || spring_bend[j] > 0 ? std::fmin(with_spring, by_weights + half[j] * std::fabs(spring_slope[j])) + by_weights : by_weights;
    if (counts > most) most = counts, box.cut = static_cast<std::uint8_t>(j);
  }
  box.bound = value + std::fmin(plain + with_intervals, with_slopes);
  return value;
}

// Climbs |torque| joint by joint from spread starts: a good answer early prunes much.
JointRow climbed(const AxisSum& sum) {
  const std::size_t n = sum.model.joint_count;
  JointRow best{};
  double most = -1;
  for (int start = 0; start < 16; ++start) {
    JointRow q{};
    for (std::size_t i = 0; i < n; ++i) q[i] = sum.terms.low[i] + (sum.terms.high[i] - sum.terms.low[i]) * std::fmod(0.5 + start * std::pow(0.9480, static_cast<double>(i + 1)), 1.0);
    double here = std::fabs(total_torque(sum, q));
    for (int sweep = 0; sweep < 12; ++sweep) {
      const double before = here;
      for (std::size_t i = 0; i < n; ++i) {
        const double low = sum.terms.low[i], high = sum.terms.high[i];
        double kept = q[i], step = (high - low) / 12;
        const auto look = [&](double at) {
          q[i] = std::clamp(at, low, high);
          if (const double found = std::fabs(total_torque(sum, q)); found > here) here = found, kept = q[i];
        };
        for (int k = 0; k <= 12; ++k) look(low + k * step);
        for (; step > 1e-4 * (high - low); step *= 0.4) look(kept - step), look(kept + step);
        q[i] = kept;
      }
      if (here - before <= 1e-6 * here) break;
    }
    if (here > most) most = here, best = q;
  }
  return best;
}

WorstHolding worst_of(const AxisSum& sum, const HoldingOptions& options, const StopSign& stop) {
  const std::size_t n = sum.model.joint_count;
  WorstHolding out;
  out.springs_counted = sum.apart == 0;
  out.q = climbed(sum);
  out.found = std::fabs(total_torque(sum, out.q));
  if (!sum.terms.bounded) {
    out.bound = endless;
    out.q = spread_out(sum, out.q);
    return out;
  }
  double small = 0;
  for (std::size_t j = 0; j < n; ++j) small = std::fmax(small, options.small * sum.terms.lever[j] * norm(sum.model.gravity));
  const auto close = [&](double bound, double found) { return bound <= found * (1 + options.gap) || bound <= found + small; };
  double counted = 0;  // the most of what the boxes bound, which leaves out springs bounded apart
  double dropped = 0;  // the highest bound of a box that was near enough to what was known
  std::priority_queue<Box> open;
  const auto take = [&](Box& box) {
    const double above = box.bound, value = look_into(sum, box);
    box.bound = std::fmin(box.bound, above);
    ++out.boxes;
    counted = std::fmax(counted, value);
    if (const double total = std::fabs(total_torque(sum, box.middle)); total > out.found) out.found = total, out.q = box.middle;
    if (!close(box.bound, counted)) open.push(box);
    else dropped = std::fmax(dropped, box.bound);
  };
  for (const int sign : {1, -1}) {
    Box box{endless, {}, {}, 0, static_cast<std::int8_t>(sign)};
    for (std::size_t j = 0; j < n; ++j) box.middle[j] = 0.5 * (sum.terms.low[j] + sum.terms.high[j]);
    take(box);
    box.bound = endless, box.middle = out.q, box.halvings.fill(60);  // the climbed posture, a box of no size
    counted = std::fmax(counted, look_into(sum, box));
  }
  double bound = counted;
  while (!open.empty()) {
    const Box box = open.top();
    if (close(box.bound, counted) || out.boxes >= options.most_boxes || stop.raised()) {
      bound = std::fmax(bound, box.bound);
      break;
    }
    open.pop();
    const std::size_t j = box.cut;
    const double quarter = 0.5 * half_width(sum, box, j);
    for (const double side : {-1.0, 1.0}) {
      Box half = box;
      half.middle[j] += side * quarter;
      ++half.halvings[j];
      take(half);
    }
  }
  out.q = spread_out(sum, out.q);
  out.bound = std::fmax(bound, dropped) + sum.apart;
  return out;
}

}  // namespace

bool worst_holding(const Model& model, const Inertia& load, std::span<const std::size_t> axes, const HoldingOptions& options, unsigned threads,
                   const Progress& progress, std::vector<WorstHolding>& out) {
  out.assign(axes.size(), {});
  return for_each_piece(axes.size(), threads, progress, [&](std::size_t i, std::size_t, const StopSign& stop) {
    out[i] = worst_of(axis_sum(model, load, axes[i]), options, stop);
  });
}

BrakeHold brake_hold(const Model& model, std::size_t axis) {
  if (model.drive.empty() || !model.drive[axis].has_brake) return {};
  const Drive& drive = model.drive[axis];
  if (drive.brake.side == BrakeSide::joint) return {true, drive.brake.torque, drive.brake.torque};
  const double by_ratio = drive.brake.torque * std::fabs(drive.ratio);
  return {true, by_ratio, by_ratio / drive.efficiency_back};
}

}  // namespace armwright
