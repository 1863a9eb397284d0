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

/// Puts a row of one path at the end of another.
void append_row(const PathRows& from, std::size_t row, PathRows& to);

/// As fast as every limit allows; rows at the grid.
PlanRefusal optimal_motion(const Model& model, const ChainPath& chain, const CycleSpec& cycle, ChainMotion& out);

/// By one trapezoidal or jerk-limited profile along the chain's parameter, slowed evenly as far as joint and tool limits ask for; rows
/// at the ends of its phases and spread between. What motors and stages cannot give is refused, not slowed for.
PlanRefusal profiled_motion(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, bool jerk_limited,
                            ChainMotion& out);

/// How much slower a motion by a profile has to be for joint and tool limits to be kept at its rows, jerk by differences between them:
/// 1 if not at all. `why`: what asks for that.
double profile_slowing(const Model& model, const CycleSpec& cycle, bool jerk_limited, const ChainMotion& motion, NamedLimit& why);

/// The same motion, k times slower; `why`: what its rows are then told to be held back by, where that is named.
void slow_down(double k, const NamedLimit& why, ChainMotion& motion);

/// What a motion may pass a limit by between rows, as a share; beyond, rows are added to the grid there, as often as `most_refinements`.
inline constexpr double passed_between_rows = 5e-4;
inline constexpr int most_refinements = 8;

/// By a timing, every limit kept at the rows and between them: the grid is made finer where one is passed by more than
/// `passed_between_rows`, what is left then is slowed for evenly. Jerk-limited: by a profile or by the time-optimal motion smoothed, the quicker.
PlanRefusal timed_chain(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, Timing timing, ChainPath& chain, ChainMotion& out);

/// The refusal that tells of a row of a path.
PlanRefusal at_row(PlanProblem problem, const PathRows& path, std::size_t row, const NamedLimit& limit);
PlanRefusal from_path(const PathStop& stop);

}  // namespace armwright
