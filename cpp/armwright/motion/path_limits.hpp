#pragma once

#include <span>
#include <vector>

#include "armwright/motion/axis_bounds.hpp"
#include "armwright/motion/path.hpp"
#include "armwright/motion/timed_motion.hpp"

namespace armwright {

/// What holds back one row of a path, when a joint, drive or the tool does.
struct NamedLimit {
  MotionLimit limit = MotionLimit::none;
  std::int32_t axis = -1;
  double use = 0;  ///< value as a share of the limit
};

/// Every limit of a motion along a path, at its rows, as needed for ṡ² = x and s̈ = u: joint acceleration q' u + q'' x, joint torque
/// a u + b x + g (a = M q'; b = M q'' + Coriolis; g: gravity less springs), tool the same.
struct PathLimits {
  const Model* model = nullptr;
  std::size_t joint_count = 0, rows = 0;
  std::vector<AxisDrive> drives;
  std::vector<double> first, second;                ///< rows × joints
  std::vector<double> axis_first, axis_second;      ///< the same of the axes; empty if there is no coupling
  std::vector<double> inertia, coriolis, gravity;   ///< axis torques a, b, g; rows × axes; empty if no torque is limited
  std::vector<double> speed, acceleration;          ///< joint limits; rows × joints
  struct ToolRow {
    double way2, way_bend, bend2, turn2, turn_bend, turn_bend2;  ///< p'·p', p'·p'', p''·p'', the same of the turning
    ToolLimits limits;
  };
  std::vector<ToolRow> tool;                        ///< rows; empty if the tool has no limits
  std::vector<double> greatest;                     ///< rows: greatest ṡ² by speed limits
  std::vector<NamedLimit> greatest_by;              ///< rows: which one

  const double* axis_way(std::size_t row) const { return (axis_first.empty() ? first : axis_first).data() + row * joint_count; }
  const double* axis_bend(std::size_t row) const { return (axis_second.empty() ? second : axis_second).data() + row * joint_count; }
};

/// The limits that hold during a cycle's moves along `path`: the moves' share of speed, tool limits and load.
PathLimits path_limits(const Model& model, const PathRows& path, const CycleSpec& cycle);

/// Share by which rounding may pass a limit.
inline constexpr double limit_rounding = 1e-11;

/// The values of s̈ that every limit allows at a row and at ṡ² = x. At x = 0 both count: the instant of a motion that starts or
/// ends there (friction and power direction as just after or before), and standing there.
Allowed allowed(const PathLimits& limits, std::size_t row, double x);

/// Whether the arm can stand at the row: 0 within what is allowed at rest. If not, the worst axis, with its use.
NamedLimit standing(const PathLimits& limits, std::size_t row);

/// The limit that is used most at a row, found from the motion itself by drive_state(), without the closed forms above.
NamedLimit most_used(const PathLimits& limits, std::size_t row, double x, double u);

}  // namespace armwright
