#pragma once

#include <memory>
#include <string>
#include <vector>

#include "armwright/motion/chain_path.hpp"
#include "armwright/motion/timed_motion.hpp"
#include "armwright/motion/time_optimal.hpp"

namespace armwright {

/// Why a cycle cannot be planned.
enum class PlanProblem : std::int8_t {
  none,
  joint_range,       ///< a joint would leave its range: `axis`, by `value` (rad, m)
  out_of_reach,      ///< the tool cannot come along the line or arc further than `share`; `value`: inverse condition just before
  singular,          ///< the line or arc comes too near a singular posture at `share`: inverse condition `value`, at least `allowed`
  branch_lost,       ///< the posture would have to jump at `share`; `value`: inverse condition just before, small where a singular posture is why
  no_circle,         ///< an arc's points tell no circle
  cannot_stand,      ///< the arm cannot hold itself at `share`: `limit` of `axis` is used `value` times
  cannot_move,       ///< nor move on from there
  too_much,          ///< a move with a given profile asks for more than `limit` of `axis` at `share`: `value` times
  no_limit,          ///< nothing bounds the motion: acceleration (or, where it is asked for, jerk) has no limit
  mixed_timing,      ///< moves that go over into one another are timed differently
  duration,          ///< asked to last `allowed` s, takes `value` s at least
  period,            ///< the cycle takes `value` s, its period is `allowed`
  not_closed         ///< a cycle with a period does not end where it began: `axis` is off by `value`
};

struct PlanRefusal {
  PlanProblem problem = PlanProblem::none;
  std::int32_t move = -1, axis = -1;
  MotionLimit limit = MotionLimit::none;
  double value = 0, allowed = 0, share = 0;  ///< share: how far along the move, 0 to 1
  bool good() const { return problem == PlanProblem::none; }
};

struct PlanOptions {
  PathGrid grid;                ///< intervals of a leg's path and of a corner's
};

/// A planned cycle, or why there is none (then rows up to the refused move are there).
struct CyclePlan {
  TimedMotion motion;
  std::vector<double> move_start, move_end;  ///< s, one a move; of moves that go over into one another, the middle of the corner parts them
  PlanRefusal refusal;
};

/// Plans all moves: way, timing, waiting. Every row keeps every limit: joint speed and acceleration, the tool's, motor speed, motor
/// torque by the peak curve, the stages' repeated peak torque and input speed, with friction, power direction and reflected inertia;
/// between rows, resampled, it passes none by more than 1e-4 (see timed_chain()). `inverse`: of the same model; may be null if no move is by tool.
/// Vectors in the cycle have the model's joint count, loads' indices exist: the caller has checked. A move's `duration` that is
/// longer than need be slows it evenly; one that is too short is refused.
CyclePlan plan_cycle(const Model& model, const ArmInverse* inverse, const CycleSpec& cycle, const PlanOptions& options = {});

}  // namespace armwright
