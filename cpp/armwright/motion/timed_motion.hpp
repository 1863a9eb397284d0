#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace armwright {

/// A motion told row by row over time. Where the acceleration jumps, two rows stand at one time, before and after; between
/// rows of different times the acceleration is taken as linear. Positions and speeds are exact at every row.
struct TimedMotion {
  std::size_t joint_count = 0;
  std::vector<double> time;                    ///< s, never falling
  std::vector<double> q, speed, acceleration;  ///< rows × joint_count; rad, rad/s, rad/s² (m where a joint slides)
  std::vector<std::int32_t> move;              ///< row: which move of the cycle, in order
  std::vector<std::int32_t> load;              ///< row: what is carried, index into the cycle's loads; -1: nothing
  std::vector<std::int32_t> limit;             ///< row: what holds the motion back there, a MotionLimit
  std::vector<std::int32_t> limit_axis;        ///< row: whose limit it is, a joint or drive; -1: the tool's, or none
};

enum class MotionLimit : std::int8_t {
  none, joint_speed, joint_acceleration, joint_jerk, tool_speed, tool_acceleration, tool_jerk, tool_turn_speed, tool_turn_acceleration,
  motor_speed, motor_torque, stage_torque, stage_speed, duration
};

}  // namespace armwright
