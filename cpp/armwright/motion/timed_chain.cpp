#include <algorithm>
#include <cmath>

#include "armwright/motion/fine_rows.hpp"
#include "armwright/motion/smoothed.hpp"

namespace armwright {

namespace {

constexpr double missed_between_rows = 2e-5;  // share of a joint's greatest speed and acceleration
constexpr double missed_by_grid = 5e-3;       // the same, beyond which the grid itself is made finer
constexpr double peak_between_rows = 3e-5;    // of a limit
constexpr double passed_unseen = 1e-4;        // share by which a way that bends is drawn out in the end
constexpr int most_passes = 4;
constexpr double passed_by_rounding = 1e-4;   // share by which a torque that is not slowed for may be passed between rows

bool bends(const PathRows& path) {
  return std::any_of(path.second.begin(), path.second.end(), [](double bend) { return bend != 0; });
}

// How a motion comes about.
enum class Way : std::int8_t { optimal, trapezoid, double_s, smoothed };

PlanRefusal plan(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, Way way, const ChainPath& chain, ChainMotion& out) {
  if (way == Way::trapezoid || way == Way::double_s) return profiled_motion(model, inverse, chain, cycle, way == Way::double_s, out);
  return optimal_motion(model, chain, cycle, out);
}

// How much slower the motion has to be for what is left between its rows.
PlanRefusal slowing_left(const Model& model, const CycleSpec& cycle, Way way, const FineRows& fine, const ChainMotion& motion, double& k, NamedLimit& why) {
  if (way != Way::optimal) k = profile_slowing(model, cycle, way != Way::trapezoid, with_fine_rows(motion, fine), why);
  if (way == Way::trapezoid || way == Way::double_s) return {};
  std::size_t worst = 0;
  const double kept = kept_square(model, cycle, fine, worst);
  if (kept < 0) return at_row(PlanProblem::cannot_move, fine.path, worst, fine.use[worst]);
  k = std::max(k, 1 / std::sqrt(kept));
  return {};
}

// What motors and stages cannot give between the rows of a motion by a profile.
PlanRefusal too_much_between(const Model& model, const CycleSpec& cycle, double k, FineRows& fine) {
  for (std::size_t row = 0; row < fine.x.size(); ++row) fine.x[row] /= k * k, fine.u[row] /= k * k;
  if (k > 1) set_uses(model, cycle, fine);
  for (std::size_t row = 0; row < fine.x.size(); ++row)
    if (fine.use[row].use > 1 + passed_by_rounding) return at_row(PlanProblem::too_much, fine.path, row, fine.use[row]);
  return {};
}

// Rows where resampling those that are there would leave the way; then no limit is passed unseen between them. `fine`: at last of all rows.
PlanRefusal fill_rows(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, const ChainPath& chain, FineRows& fine, ChainMotion& out) {
  std::vector<std::uint8_t> added;
  double most = 1;
  for (int pass = 0; pass < most_passes; ++pass) {
    for (std::size_t row = 0; row < fine.use.size(); ++row)
      if (fine.spread[row]) most = std::max(most, fine.use[row].use);
    miss_peaks(most + peak_between_rows, fine);
    add_rows(fine, missed_between_rows, out, added);
    if (added.empty()) {
      if (pass == 0) return {};
      break;
    }
    if (const PathStop stop = fine_rows(model, inverse, chain, cycle, out, added, fine); !stop.good()) return from_path(stop);
  }
  if (const PathStop stop = fine_rows(model, inverse, chain, cycle, out, {}, fine); !stop.good()) return from_path(stop);
  return {};
}

PlanRefusal by_way(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, Way way, ChainPath& chain, ChainMotion& out) {
  FineRows fine;
  for (int refined = 0;; ++refined) {
    if (const PlanRefusal refusal = plan(model, inverse, cycle, way, chain, out); !refusal.good()) return refusal;
    if (const PathStop stop = fine_rows(model, inverse, chain, cycle, out, {}, fine); !stop.good()) return from_path(stop);
    if (refined == most_refinements || refine_grid(fine, passed_between_rows, missed_by_grid, chain) == 0) break;
  }
  if (way == Way::smoothed) {
    out = quickest_smoothed(model, inverse, chain, cycle, out);
    if (out.time.empty()) return at_row(PlanProblem::too_much, chain.rows, 0, {MotionLimit::joint_jerk, -1, 0});
    if (const PathStop stop = fine_rows(model, inverse, chain, cycle, out, {}, fine); !stop.good()) return from_path(stop);
  }
  if (const PlanRefusal refusal = fill_rows(model, inverse, cycle, chain, fine, out); !refusal.good()) return refusal;
  double k = 1;
  NamedLimit why;
  if (const PlanRefusal refusal = slowing_left(model, cycle, way, fine, out, k, why); !refusal.good()) return refusal;
  // What a way that bends may pass a limit by between the instants looked at.
  if (bends(out.path)) k *= 1 + passed_unseen;
  slow_down(k, why, out);
  return way == Way::trapezoid || way == Way::double_s ? too_much_between(model, cycle, k, fine) : PlanRefusal{};
}

}  // namespace

PlanRefusal timed_chain(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, Timing timing, ChainPath& chain, ChainMotion& out) {
  if (timing != Timing::jerk_limited) return by_way(model, inverse, cycle, timing == Timing::trapezoidal ? Way::trapezoid : Way::optimal, chain, out);
  ChainPath again = chain;
  const PlanRefusal refusal = by_way(model, inverse, cycle, Way::double_s, chain, out);
  const bool possible = refusal.good() ? bends(chain.rows) : refusal.problem == PlanProblem::too_much;
  if (!possible) return refusal;
  ChainMotion smooth;
  const bool planned = by_way(model, inverse, cycle, Way::smoothed, again, smooth).good();
  if (!planned || (refusal.good() && smooth.duration >= out.duration)) return refusal;
  out = std::move(smooth);
  chain = std::move(again);
  return {};
}

}  // namespace armwright
