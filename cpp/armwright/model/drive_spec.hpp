#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "armwright/spatial/vector3.hpp"

namespace armwright {

// What stands between the supply and a joint, as described. Every axis has at most one motor and a chain of stages from
// it to the axis. Units are those of a turning axis; where the axis slides, rad become m and N m become N on that side.

/// A point of a torque–speed curve: speed at the motor's shaft, rad/s, and torque there, N m.
struct CurvePoint {
  double speed, torque;
};

struct MotorSpec {
  std::string name = "motor";
  /// Speeds rise from 0; the last one is the greatest at which the motor may run. Between points: straight lines.
  std::vector<CurvePoint> continuous, peak;
  double rotor_inertia = 0;    ///< with what is fixed to the shaft (brake, coupling), kg m²
  double winding_loss = 0;     ///< copper loss by squared torque, W/(N m)²
  double torque_constant = 0;  ///< N m per A (rms, in a motor lead); 0: not told
  double encoder_counts = 0;   ///< a motor turn; 0: not told
};

/// One stage. Its input looks towards the motor, its output towards the axis.
struct StageSpec {
  std::string name = "stage";
  double ratio = 1;              ///< input turns a turn of the output; rad/m where the output slides; negative: reverses
  double efficiency = 1;         ///< while the motor drives, 0 to 1
  double efficiency_back = 1;    ///< while the axis drives the motor, 0 to 1
  double inertia = 0;            ///< of what turns with its input, kg m²
  double rated_torque = std::numeric_limits<double>::infinity();           ///< at the output, for any time
  double repeated_peak_torque = std::numeric_limits<double>::infinity();   ///< at the output, at every start and stop
  double momentary_peak_torque = std::numeric_limits<double>::infinity();  ///< at the output, at a rare emergency stop
  double max_input_speed = std::numeric_limits<double>::infinity();        ///< rad/s
  double mean_input_speed = std::numeric_limits<double>::infinity();       ///< greatest mean over a cycle, rad/s
  double stiffness = std::numeric_limits<double>::infinity();              ///< at the output, N m/rad
  double backlash = 0;           ///< at the output, rad
  double rated_life = 0;         ///< s at rated torque and rated input speed; 0: not told
  double rated_input_speed = 0;  ///< rad/s
  double life_exponent = 3;      ///< 3 for strain wave and ball bearings, 10/3 for rollers and cycloidal
};

enum class BrakeSide : std::int8_t { motor, joint };

struct BrakeSpec {
  double torque = 0;  ///< static, where it sits, N m
  BrakeSide side = BrakeSide::motor;
  double delay = 0;   ///< from power off to full torque, s
  double energy_per_stop = std::numeric_limits<double>::infinity();  ///< J
};

/// Torque that resists motion: Coulomb by direction, and by speed. At rest up to the Coulomb torque.
struct FrictionSpec {
  double coulomb_forward = 0, coulomb_backward = 0;  ///< not negative, N m
  double viscous = 0;                                ///< N m s
};

struct DriveSpec {
  MotorSpec motor;
  std::vector<StageSpec> stages;  ///< from the motor to the axis; none: the motor turns the axis itself
  std::optional<BrakeSpec> brake;
  FrictionSpec motor_friction;    ///< at the motor's shaft
  FrictionSpec joint_friction;    ///< at the axis
};

/// A coil or gas spring between a point of one link and a point of another, whose pull is linear in its length.
/// Link -1 is the base (on the track's carriage if there is a track); points in that link's frame.
struct SpringSpec {
  std::string name = "counterbalance";
  int link_a = -1, link_b = 0;  ///< of the arm, from the base out
  Vec3 point_a{0, 0, 0}, point_b{0, 0, 0};
  double length = 0;            ///< m, at which it pulls by `pull`
  double pull = 0;              ///< N; negative: it pushes
  double rate = 0;              ///< N/m: how the pull grows with the length
  bool pulls_only = false;      ///< a coil spring gone slack neither pulls nor pushes
  double shortest = 0, longest = std::numeric_limits<double>::infinity();  ///< its own stroke, m
};

}  // namespace armwright
