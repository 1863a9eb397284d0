#pragma once

#include "armwright/motion/dormand_prince.hpp"
#include "armwright/motion/stop.hpp"
#include "armwright/motion/stop_solve.hpp"

namespace armwright {

enum class StopPhase : std::int8_t { reaction, control, hold, off };

/// What happens next, at a share of the step in hand.
struct StopEvent {
  enum class Kind : std::int8_t { none, halt, break_loose, joint_end };
  Kind kind = Kind::none;
  double share = 1;
  std::size_t which = 0;  ///< axis, or joint for joint_end
  int side = 0;           ///< joint_end: 1 the upper, -1 the lower
};

/// One stop being followed. Positions and speeds are those of the axes (see Coupling); the state is both in a row.
struct StopRun {
  const Model& model;
  const StopOptions& options;
  Inertia last;
  std::size_t n;
  std::vector<AxisDrive> drives;
  std::vector<StopAxis> axes;
  StopAnswer answer;

  DormandPrince<2 * max_joints> ode;
  double time = 0, last_moved = 0, step = 4e-3;
  StopPhase phase = StopPhase::reaction;
  double control_ends = 0, hold_ends = 0;
  double brakes_told = std::numeric_limits<double>::infinity();  ///< to close, s
  AxisNumbers planned{};                     ///< category 1: deceleration of each axis
  std::array<std::int8_t, max_joints> sense{};   ///< 1, -1: moves so; 0: stands
  std::array<std::int8_t, max_joints> at_end{};  ///< 1, -1: stands at the upper, lower end of its range
  std::array<bool, max_joints> braked{}, held_still{};
  AxisNumbers least{}, greatest{};           ///< what a standing axis holds
  AxisNumbers acceleration{}, held{};
  std::array<AxisMode, max_joints> mode{};
  std::array<AxisLaw, max_joints> law{};
  double torque_slack = 0;                   ///< rounding in torques, N m
  int lost = -1, no_progress = 0;
  const StopSign* sign = nullptr;
  Vec3 tool_start{};
  std::size_t next_row = 0;

  StopRun(const Model& model_in, const Inertia& load, std::span<const double> q, std::span<const double> speed, const StopOptions& options_in);

  double* position() { return ode.start.data(); }
  double* speed() { return ode.start.data() + n; }

  // stop_laws.cpp
  // Both say false where an axis has no inertia (`lost`), or numbers are beyond all bounds (`lost` is -1).
  bool derivative(const double* state, double* slope);  ///< of the pattern in hand
  bool settle_pattern();                                ///< which of the standing axes stay
  double motor_reach(std::size_t axis, double axis_speed) const;  ///< torque that a controlled motor has, N m
  // stop_events.cpp
  StopEvent first_event();            ///< in the step just made
  void take_impact(const StopEvent& event);
  // stop_record.cpp
  void begin_record();
  void record(double share);          ///< the step up to a share of it
  void end_record();

  void see(double at, const double* state);  ///< an instant, with `held` and `acceleration` of it

  // stop_stages.cpp
  void see_stages(double at, const double* axis_speed);

  bool all_stand() const;
};

/// How joint i moves with its own axis, if no other axis moves it; else 0.
double own_share(const Model& model, std::size_t joint);

/// From axis to joint numbers, in an array.
AxisNumbers joints_from(const StopRun& run, const double* axis);

}  // namespace armwright
