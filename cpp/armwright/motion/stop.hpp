#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "armwright/model/model.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// The stop categories of IEC 60204-1 that end without power.
enum class StopCategory : std::int8_t {
  power_off,  ///< 0: the motors' power is taken off at once
  controlled  ///< 1: the motors brake every axis to rest, then their power is taken off
};

/// Of the integration, those that were tried and refused as well; then a stop is given up (some seconds' work).
inline constexpr int most_stop_steps = 500000;

struct StopOptions {
  StopCategory category = StopCategory::power_off;
  double reaction = 0;  ///< s from the signal until anything happens; every axis goes on at its speed
  /// Category 1: greatest deceleration of each axis, rad/s² (m/s²); infinite: all that its motor gives. Axes with a
  /// finite one come to rest together, each evenly, as soon as those allow; never beyond the motors' peak curves.
  std::array<double, max_joints> deceleration{};
  double longest_control = std::numeric_limits<double>::quiet_NaN();  ///< s; then the power goes at the latest. NaN: 1 s more than planned
  /// Category 1: s that the motors hold the arm after every axis stands, the brakes being told to close at that instant; then
  /// the power goes. 0: it goes when all stand, and the brakes are told by that. Motors that cannot hold the arm never bring it to
  /// a stand either: then the power goes at `longest_control`.
  double hold = 0;
  double time_limit = 10;   ///< s from the signal; what still moves then is told so
  double tolerance = 1e-8;  ///< of the integration, rad and rad/s (m and m/s), absolute and by size
  double row_step = 0;      ///< s between the rows kept for pictures; 0: none
  bool every_step = false;  ///< keeps StopSteps
};

enum class StopEnd : std::int8_t {
  rest,          ///< every axis stands, and stays so
  still_moving,  ///< at the time limit
  joint_end,     ///< a joint that several axes turn has come to its end; not followed further
  no_inertia,    ///< an axis that moves has no inertia: see `joint`
  gave_up        ///< before the time limit: more than most_stop_steps, or numbers beyond all bounds
};

/// Rows for pictures: evenly in time, and the last instant.
struct StopRows {
  std::vector<double> time;                ///< s
  std::vector<double> q, speed;            ///< rows × joints
  std::vector<double> tool;                ///< rows × 3, tool point in the world, m
};

/// What the joints do where the integration steps, and on both sides of every event, which then are two at one time. An
/// impact at the end of a range is a jump of the speeds between two of them; its force has no place here.
struct StopSteps {
  std::vector<double> time;                    ///< s from the signal, never falling
  std::vector<double> q, speed, acceleration;  ///< rows × joints
};

struct StopAnswer {
  StopEnd end = StopEnd::still_moving;
  double time = 0;         ///< s from the signal to rest, or to where it was followed
  double power_off = 0;    ///< s from the signal to when the power went; NaN if it never did
  std::array<double, max_joints> q{};             ///< at the end
  std::array<double, max_joints> travel{};        ///< way of each joint, there and back added up, rad (m)
  std::array<double, max_joints> top_speed{};     ///< greatest of each joint, rad/s (m/s)
  std::array<double, max_joints> impact_speed{};  ///< with which a joint first met the end of its range; 0: never
  std::array<double, max_joints> impact_time{};   ///< when, s; NaN: never
  std::array<double, max_joints> brake_energy{};  ///< into each axis' brake, J
  /// Greatest torque at every stage's output, axis by axis, its magnitude, N m (N where that output slides), and when, s
  /// (NaN: none at all). Looked at where the integration steps and on both sides of every event. An impact's is not in it.
  std::array<std::array<double, max_stages>, max_joints> stage_torque{}, stage_torque_time{};
  std::int32_t joint = -1;  ///< the joint that ended it, for joint_end and no_inertia
  bool saturated = false;   ///< category 1: some motor could not give what the deceleration or holding asked for
  double tool_travel = 0;   ///< from where the tool point was to where it is, m
  double tool_path = 0;     ///< along its way, m
  double tool_drop = 0;     ///< how far it was below its start at the lowest, m
  double tool_top_speed = 0;  ///< m/s
  std::int32_t steps = 0;   ///< of the integration, tried
  StopRows rows;
  StopSteps every;
};

/// The motion after a stop is asked for at posture `q` and joint speeds `speed`, by forward dynamics of the whole arm with
/// `load` (in the last joint frame), track and springs, between events that are found in time.
///
/// An axis without power is moved by its links and held up by its drive as it is dragged: rotor and stages' inertia, every
/// stage's loss by the direction of power in it, Coulomb and viscous friction of both sides, and, from its delay after
/// the power went, its brake (Coulomb, on its own side). At rest it stays as long as what it has to hold is less than
/// what breaks it loose. A joint that meets the end of its range stops there without rebound, and the others by what
/// that pulls at them through the masses (losses left out in that instant). Left out: elasticity, backlash, the fading of a
/// hot brake, windings that are shorted. Once `sign` is raised the answer is of no use.
StopAnswer stop(const Model& model, const Inertia& load, std::span<const double> q, std::span<const double> speed, const StopOptions& options,
                const StopSign* sign = nullptr);

/// One stop each for many postures, speeds and loads, rows of all three. Returns false if it was cancelled.
bool stops(const Model& model, std::span<const Inertia> loads, std::span<const double> q, std::span<const double> speed,
           const StopOptions& options, unsigned threads, const Progress& progress, std::vector<StopAnswer>& out);

}  // namespace armwright
