#pragma once

#include "armwright/elements/duty_type.hpp"
#include "armwright/limits/driven_motion.hpp"

namespace armwright {

/// What a part of a drive is held to over a cycle.
enum class CheckLimit : std::int8_t {
  motor_peak_torque,        ///< against the peak curve at the speed of each instant
  motor_continuous_torque,  ///< root mean square against the continuous curve at the root mean square of the speed
  motor_speed,              ///< against the end of the peak curve
  stage_peak_torque,        ///< output torque against the repeated peak
  stage_mean_torque,        ///< mean powered torque (where it never turns: root mean square) against the rated torque
  stage_speed,              ///< greatest input speed
  stage_mean_speed,         ///< mean input speed over the cycle
  stated_peak_torque, stated_continuous_torque,  ///< of the axis itself; the latter by root mean square
  joint_speed, joint_acceleration
};

/// Load as a share of what is allowed: more than 1 is too much.
struct Share {
  std::int32_t axis;
  std::int8_t part;   ///< a stage's index, part_motor, part_stated
  CheckLimit limit;
  double share;
  double time;        ///< when it is worst, s; NaN where all of the cycle counts
};

struct MotorCheck {
  double peak_torque, rms_torque, mean_speed, rms_speed, greatest_speed;  ///< magnitudes, N m, rad/s
  double worst_time;                           ///< when the torque is nearest to the peak curve
  double continuous_torque;                    ///< the continuous curve at the root mean square speed
  double least_inertia_ratio, greatest_inertia_ratio;  ///< NaN without rotor inertia
  Duty duty;
};

struct StageCheck {
  double peak_torque, rms_torque, mean_torque;  ///< at the output, N m; mean_torque powered by the life exponent
  double mean_input_speed, greatest_input_speed;
  double life;             ///< s; infinite where nothing wears it, NaN without a rated life
  double past_peak_time;   ///< s beyond the repeated peak
  std::int32_t past_peaks; ///< how many times it goes beyond
  double allowed_peaks;    ///< how many such a strain wave reducer stands in its life, by the longest; NaN without any
};

struct AxisCheck {
  MotorCheck motor;
  std::array<StageCheck, max_stages> stage;
};

struct DriveCheck {
  std::vector<AxisCheck> axis;
  std::vector<Share> shares;  ///< one for every limit that is known, in order of axes
  std::int32_t weakest;       ///< place in `shares` of the greatest; -1 where no limit is known
};

/// Peaks, means, lives and shares of a cycle. Means are over the whole duration, pauses included. `inertia`: rows × axes, what each
/// axis turns with all others held, kg m²; empty: no inertia ratios. `repeated`: the cycle goes on and on.
DriveCheck drive_check(const Model& model, const DrivenMotion& driven, std::span<const double> inertia, bool repeated);

/// Diagonal of the mass matrix in axes (Cᵀ M C) with what is carried: rows × joint_count, for drive_check.
std::vector<double> axis_inertias(const Model& model, std::span<const Inertia> loads, const RefinedMotion& motion);

}  // namespace armwright
