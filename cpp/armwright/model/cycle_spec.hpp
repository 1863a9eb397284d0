#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "armwright/spatial/inertia.hpp"
#include "armwright/spatial/pose.hpp"

namespace armwright {

enum class MoveKind : std::int8_t {
  joints,  ///< to a posture, all joints in step
  line,    ///< the tool point straight to a pose, its attitude turning evenly about one axis
  arc,     ///< the tool point on a circle through a point to a pose
  dwell    ///< stands still
};

/// When the track goes, in a joint move.
enum class TrackOrder : std::int8_t { with_arm, before_arm };

/// How a move is timed.
enum class Timing : std::int8_t {
  time_optimal,  ///< as fast as every limit allows: speed, acceleration, torque at the motor, reducers
  trapezoidal,   ///< speed ramps up and down evenly, within speed and acceleration limits
  jerk_limited   ///< the same with acceleration that ramps too; or the time-optimal motion smoothed as jerk asks, whichever is quicker
};

/// Of the tool point and of its turning. Infinity: no limit.
struct ToolLimits {
  double speed = std::numeric_limits<double>::infinity(), acceleration = std::numeric_limits<double>::infinity(),
         jerk = std::numeric_limits<double>::infinity();                 ///< m/s, m/s², m/s³
  double turn_speed = std::numeric_limits<double>::infinity(), turn_acceleration = std::numeric_limits<double>::infinity();  ///< rad/s, rad/s²
};

struct MoveSpec {
  std::string name;
  MoveKind kind = MoveKind::joints;
  std::vector<double> q;        ///< joints: where it ends, track first
  Pose to = identity_pose;      ///< line, arc: tool frame in the world where it ends
  Vec3 via{0, 0, 0};            ///< arc: a point that it passes, world, m
  double track_to = std::numeric_limits<double>::quiet_NaN();  ///< line, arc: where the track ends, m; NaN: it stays
  TrackOrder track_order = TrackOrder::with_arm;
  double blend = 0;             ///< m; 0: stops at its end. Else goes over into the next move without stopping and passes its end within this distance, at the tool point
  double duration = 0;          ///< dwell: s. Other moves: how long it takes, refused if it cannot be so short; moves that go over into one another are
                                ///< slowed alike, so that each takes this or longer. 0: as fast as it goes
  std::int32_t load = -1;       ///< what is carried meanwhile, index into CycleSpec::loads; -1: nothing
  Timing timing = Timing::time_optimal;
  double speed_share = 1;       ///< of every joint speed limit; acceleration goes with its square, jerk with its cube
  ToolLimits tool;
};

/// Moves one after the other from a posture. A cycle that is repeated ends where it began.
struct CycleSpec {
  std::vector<double> start;    ///< posture, track first
  std::vector<MoveSpec> moves;
  std::vector<Inertia> loads;   ///< in the tool frame
  double period = 0;            ///< s from start to start; 0: as soon as it ends. The arm waits at the end of a shorter cycle
};

}  // namespace armwright
