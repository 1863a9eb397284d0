#include <algorithm>
#include <cmath>

#include "armwright/motion/fine_rows.hpp"

namespace armwright {

namespace {

constexpr double missed_between_rows = 2e-5;  // share of a joint's greatest speed and acceleration
constexpr double missed_by_grid = 5e-3;       // the same, beyond which the grid itself is made finer
constexpr double peak_between_rows = 3e-5;    // of a limit
constexpr double passed_unseen = 1e-4;        // share by which a way that bends is drawn out in the end
constexpr int most_passes = 4;
constexpr double passed_by_rounding = 1e-4;   // share by which a torque that is not slowed for may be passed between rows

PlanRefusal plan(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, Timing timing, const ChainPath& chain, ChainMotion& out) {
  if (timing == Timing::time_optimal) return optimal_motion(model, chain, cycle, out);
  return profiled_motion(model, inverse, chain, cycle, timing == Timing::jerk_limited, out);
}

// How much slower the motion has to be for what is left between its rows.
PlanRefusal slowing_left(const Model& model, const CycleSpec& cycle, Timing timing, const FineRows& fine, const ChainMotion& motion, double& k, NamedLimit& why) {
  if (timing != Timing::time_optimal) {
    k = profile_slowing(model, cycle, timing == Timing::jerk_limited, with_fine_rows(motion, fine), why);
    return {};
  }
  std::size_t worst = 0;
  const double kept = kept_square(model, cycle, fine, worst);
  if (kept < 0) return at_row(PlanProblem::cannot_move, fine.path, worst, fine.use[worst]);
  k = 1 / std::sqrt(kept);
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

}  // namespace

PlanRefusal timed_chain(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, Timing timing, ChainPath& chain, ChainMotion& out) {
  FineRows fine;
  for (int refined = 0;; ++refined) {
    if (const PlanRefusal refusal = plan(model, inverse, cycle, timing, chain, out); !refusal.good()) return refusal;
    if (const PathStop stop = fine_rows(model, inverse, chain, cycle, out, {}, fine); !stop.good()) return from_path(stop);
    if (refined == most_refinements || refine_grid(fine, passed_between_rows, missed_by_grid, chain) == 0) break;
  }
  if (const PlanRefusal refusal = fill_rows(model, inverse, cycle, chain, fine, out); !refusal.good()) return refusal;
  double k = 1;
  NamedLimit why;
  if (const PlanRefusal refusal = slowing_left(model, cycle, timing, fine, out, k, why); !refusal.good()) return refusal;
  // What a way that bends may pass a limit by between the instants looked at.
  if (std::any_of(out.path.second.begin(), out.path.second.end(), [](double bend) { return bend != 0; })) k *= 1 + passed_unseen;
  slow_down(k, why, out);
  return timing == Timing::time_optimal ? PlanRefusal{} : too_much_between(model, cycle, k, fine);
}

}  // namespace armwright
