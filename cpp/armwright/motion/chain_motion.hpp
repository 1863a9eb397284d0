#pragma once

#include "armwright/motion/cycle.hpp"

namespace armwright {

/// A chain's motion from 0 s on; what ends it in a refusal.
struct ChainMotion {
  std::vector<double> time, x, u;       ///< rows: s, ṡ², s̈
  PathRows path;                        ///< at those rows; where s̈ jumps a row stands twice
  std::vector<NamedLimit> limit;        ///< rows
  double duration = 0;
};

/// Rows keep every limit; a path that bends may pass one between them by some 1e-4. A motion is drawn out by this share of its
/// time, so that it does not.
inline constexpr double kept_between_rows = 5e-4;

/// What a motion may pass a limit by between rows, as a share; beyond, it is planned on a grid twice as fine, as often
/// as `most_refinements`.
inline constexpr double passed_between_rows = 5e-4;
inline constexpr int most_refinements = 4;

/// As fast as every limit allows; rows at the grid.
PlanRefusal optimal_motion(const Model& model, const ChainPath& chain, const CycleSpec& cycle, ChainMotion& out);

/// The greatest use of any limit half way between the rows of an optimal motion, and where an axis turns back (1: at the limit); unlimited
/// where the way is lost there.
double most_used_between(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, const ChainMotion& motion);

/// By one trapezoidal or jerk-limited profile along the chain's parameter, slowed evenly as far as joint and tool limits ask for; rows
/// at the ends of its phases and spread between. What motors and stages cannot give is refused, not slowed for.
PlanRefusal profiled_motion(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, bool jerk_limited,
                            ChainMotion& out);

/// The refusal that tells of a row of a path.
PlanRefusal at_row(PlanProblem problem, const PathRows& path, std::size_t row, const NamedLimit& limit);
PlanRefusal from_path(const PathStop& stop);

}  // namespace armwright
