#pragma once

#include "armwright/limits/first_violation.hpp"

namespace armwright {

/// A cycle's axis torques by what they come of. Run 1/u times as long, torque = still + u² moving (inertia and centrifugal forces);
/// each is straight in the load: of the arm alone, and of the loads as they are told. Rows × joint_count, N m.
struct ScaledTorques {
  RefinedMotion motion;
  std::vector<AxisDrive> drives;
  std::vector<StageSpec> stages;                      ///< joint_count × max_stages, for the lives
  std::vector<double> arm_still, arm_moving, load_still, load_moving;
};

/// `loads`: see driven_motion.
ScaledTorques scaled_torques(const Model& model, std::span<const Inertia> loads, const TimedMotion& motion, double step);

/// With the loads as told, how one axis at one row goes with the speed factor u.
AxisCourse over_speed(const ScaledTorques& torques, std::size_t row, std::size_t axis);

/// At a speed factor u (0: so slow that only weight counts), how it goes with a factor on all loads.
AxisCourse over_load(const ScaledTorques& torques, std::size_t row, std::size_t axis, double u);

/// The torques at one place of a course.
DriveState<double> state_at(const AxisDrive& drive, const AxisCourse& course, double s);

/// The greatest factor by which all loads may grow with the cycle run at speed factor u, and what holds it there. Peak limits are solved in
/// closed form at each row; the root mean square is a parabola in the factor between bends that are known, and solved
/// piece by piece; the mean powered torque of reducers by bracketing. At 0 already too much: 0.
struct LoadScale {
  Violation peak, continuous;  ///< each by itself; `at` the factor
  Violation least() const { return continuous.at < peak.at ? continuous : peak; }
};
LoadScale greatest_load(const ScaledTorques& torques, double u, double cap);

/// How many times faster the cycle may run, its standing times kept: the first limit met going up from standstill.
Violation greatest_speed_factor(const Model& model, const ScaledTorques& torques, double cap);

/// How long the cycle then takes, s: what moves 1/u times as long, what stands as long as before; infinite at u = 0.
double scaled_duration(const RefinedMotion& motion, double u);

}  // namespace armwright
