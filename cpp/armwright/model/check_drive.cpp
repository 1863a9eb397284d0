#include "armwright/model/check_drive.hpp"

#include <Eigen/LU>
#include <cmath>

#include "armwright/model/drive.hpp"
#include "armwright/model/check.hpp"
#include "armwright/support/refused.hpp"
#include "armwright/support/told.hpp"

namespace armwright {

namespace {

// Not negative and not NaN; infinity where the key allows it.
void check_amount(const std::string& key, double value, bool may_be_infinite = false) {
  if (!(value >= 0) || (!may_be_infinite && std::isinf(value))) throw Refused(key, told(value), "0 or more");
}

void check_share(const std::string& key, double value) {
  if (!(value > 0 && value <= 1)) throw Refused(key, told(value), "more than 0, at most 1");
}

void check_curve(const std::string& key, const std::vector<CurvePoint>& curve) {
  if (curve.size() < 2 || curve.size() > max_curve_points)
    throw Refused(key, told(curve.size(), " points"), told("2 to ", max_curve_points));
  if (curve.front().speed != 0) throw Refused(key, told("a first point at ", curve.front().speed, " rad/s"), "a first point at rest, 0 rad/s");
  for (std::size_t i = 0; i < curve.size(); ++i) {
    check_finite(key + " speed", curve[i].speed);
    check_finite(key + " torque", curve[i].torque);
    if (curve[i].torque < 0) throw Refused(key, told(curve[i].torque, " N m"), "0 N m or more");
    if (i > 0 && !(curve[i].speed > curve[i - 1].speed))
      throw Refused(key, told(curve[i].speed, " rad/s after ", curve[i - 1].speed, " rad/s"), "speeds that rise from point to point");
  }
}

double torque_at(const std::vector<CurvePoint>& curve, double speed) {
  for (std::size_t i = 1; i < curve.size(); ++i) {
    if (speed > curve[i].speed) continue;
    const double share = (speed - curve[i - 1].speed) / (curve[i].speed - curve[i - 1].speed);
    return curve[i - 1].torque + share * (curve[i].torque - curve[i - 1].torque);
  }
  return 0;
}

// The peak curve never below the continuous one: compared at the points of both, since between them both are straight.
void check_motor(const std::string& key, const MotorSpec& motor) {
  check_curve(key + " continuous", motor.continuous);
  check_curve(key + " peak", motor.peak);
  const double both_to = std::min(motor.continuous.back().speed, motor.peak.back().speed);
  if (motor.continuous.back().speed > motor.peak.back().speed * (1 + 1e-12))
    throw Refused(key + " peak", told("an end at ", motor.peak.back().speed, " rad/s"), told("at least the continuous curve's end, ", motor.continuous.back().speed, " rad/s"));
  for (const auto* curve : {&motor.continuous, &motor.peak})
    for (const CurvePoint& point : *curve) {
      if (point.speed > both_to) continue;
      const double peak = torque_at(motor.peak, point.speed), lasting = torque_at(motor.continuous, point.speed);
      if (peak < lasting * (1 - 1e-9))
        throw Refused(key + " peak", told(peak, " N m at ", point.speed, " rad/s"), told("at least the continuous torque there, ", lasting, " N m"));
    }
  check_amount(key + " rotor inertia", motor.rotor_inertia);
  check_amount(key + " winding loss", motor.winding_loss);
  check_amount(key + " torque constant", motor.torque_constant);
  check_amount(key + " encoder counts", motor.encoder_counts);
}

void check_stage(const std::string& key, const StageSpec& stage) {
  if (!std::isfinite(stage.ratio) || stage.ratio == 0) throw Refused(key + " ratio", told(stage.ratio), "a number other than 0");
  check_share(key + " efficiency", stage.efficiency);
  check_share(key + " efficiency driven back", stage.efficiency_back);
  check_amount(key + " inertia", stage.inertia);
  check_amount(key + " rated torque", stage.rated_torque, true);
  check_amount(key + " repeated peak torque", stage.repeated_peak_torque, true);
  check_amount(key + " momentary peak torque", stage.momentary_peak_torque, true);
  if (!(stage.repeated_peak_torque >= stage.rated_torque))
    throw Refused(key + " repeated peak torque", told(stage.repeated_peak_torque, " N m"), told("at least the rated torque, ", stage.rated_torque, " N m"));
  if (!(stage.momentary_peak_torque >= stage.repeated_peak_torque))
    throw Refused(key + " momentary peak torque", told(stage.momentary_peak_torque, " N m"), told("at least the repeated peak torque, ", stage.repeated_peak_torque, " N m"));
  check_amount(key + " maximum input speed", stage.max_input_speed, true);
  check_amount(key + " mean input speed", stage.mean_input_speed, true);
  if (!(stage.stiffness > 0)) throw Refused(key + " stiffness", told(stage.stiffness), "more than 0");
  check_amount(key + " backlash", stage.backlash);
  check_amount(key + " rated life", stage.rated_life);
  check_amount(key + " rated input speed", stage.rated_input_speed);
  if (stage.rated_life > 0 && !(stage.rated_input_speed > 0 && std::isfinite(stage.rated_torque)))
    throw Refused(key + " rated life", told(stage.rated_life, " s"), "a rated torque and a rated input speed beside it");
  if (!(stage.life_exponent >= 1 && stage.life_exponent <= 12)) throw Refused(key + " life exponent", told(stage.life_exponent), "1 to 12, as 3 or 10/3");
}

void check_friction(const std::string& key, const FrictionSpec& friction) {
  check_amount(key + " Coulomb torque forward", friction.coulomb_forward);
  check_amount(key + " Coulomb torque backward", friction.coulomb_backward);
  check_amount(key + " viscous", friction.viscous);
}

}  // namespace

void check_drive(const std::string& key, const DriveSpec& drive) {
  check_motor(key + " motor '" + drive.motor.name + "'", drive.motor);
  if (drive.stages.size() > max_stages) throw Refused(key + " stages", told(drive.stages.size()), told("at most ", max_stages));
  for (const StageSpec& stage : drive.stages) check_stage(key + " stage '" + stage.name + "'", stage);
  check_friction(key + " friction at the motor", drive.motor_friction);
  check_friction(key + " friction at the joint", drive.joint_friction);
  if (!drive.brake) return;
  if (!(drive.brake->torque > 0) || std::isinf(drive.brake->torque)) throw Refused(key + " brake torque", told(drive.brake->torque, " N m"), "more than 0, or no brake");
  check_amount(key + " brake delay", drive.brake->delay);
  if (!(drive.brake->energy_per_stop > 0)) throw Refused(key + " brake energy per stop", told(drive.brake->energy_per_stop, " J"), "more than 0");
}

void check_spring(const std::string& key, const SpringSpec& spring, int link_count) {
  for (const int link : {spring.link_a, spring.link_b})
    if (link < -1 || link >= link_count) throw Refused(key + " link", told(link), told("-1 (the base) to ", link_count - 1));
  if (spring.link_a == spring.link_b) throw Refused(key + " links", "the same twice", "two different links");
  for (const Vec3* p : {&spring.point_a, &spring.point_b})
    for (const double x : {p->x, p->y, p->z}) check_finite(key + " point", x);
  check_amount(key + " length", spring.length);
  check_finite(key + " pull", spring.pull);
  check_finite(key + " rate", spring.rate);
  check_amount(key + " shortest", spring.shortest);
  if (!(spring.longest > spring.shortest)) throw Refused(key + " longest", told(spring.longest, " m"), told("more than the shortest, ", spring.shortest, " m"));
}

void check_coupling(const std::vector<double>& matrix, std::size_t joint_count) {
  if (matrix.size() != joint_count * joint_count) throw Refused("coupling", told(matrix.size(), " numbers"), told(joint_count, " rows of ", joint_count));
  for (const double value : matrix) check_finite("coupling", value);
  const auto n = static_cast<Eigen::Index>(joint_count);
  const Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>> C(matrix.data(), n, n);
  const double size = C.rowwise().norm().prod(), determinant = C.determinant();
  if (!(std::fabs(determinant) > 1e-9 * size)) throw Refused("coupling", told("a matrix of determinant ", determinant), "one that can be inverted: every motor must move something of its own");
}

}  // namespace armwright
