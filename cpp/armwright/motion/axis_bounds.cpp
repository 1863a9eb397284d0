#include "armwright/motion/axis_bounds.hpp"

#include <algorithm>

namespace armwright {

namespace {

// Straight lines value + slope u; the torque at a shaft is the greatest of them.
struct Lines {
  static constexpr std::size_t most = 1u << max_stages;
  double value[most], slope[most];
  std::size_t count = 1;
};

// -limit <= the greatest line <= limit.
void allow_within(const Lines& lines, double limit, Allowed& u) {
  if (!(limit < unlimited)) return;
  double least = unlimited, greatest = -unlimited;  // u >= least, or u <= greatest, keeps above -limit
  bool always = false;
  for (std::size_t k = 0; k < lines.count; ++k) {
    const double c = lines.value[k], m = lines.slope[k];
    if (m > 0) u.at_most((limit - c) / m), least = std::min(least, (-limit - c) / m);
    else if (m < 0) u.at_least((limit - c) / m), greatest = std::max(greatest, (-limit - c) / m);
    else if (c > limit) u.nothing();
    else always = always || c >= -limit;
  }
  if (always || least <= greatest) return;
  if (greatest == -unlimited) u.at_least(least);
  else if (least == unlimited) u.at_most(greatest);
  // Both ends are open and the middle is not: the side with rest in it, or the nearer one, is taken. A rotor that outweighs
  // its own motor can bring this about, nothing usual.
  else if (std::fabs(least) <= std::fabs(greatest)) u.at_least(least);
  else u.at_most(greatest);
  if (lines.count == 1 && lines.slope[0] == 0 && !always) u.nothing();
}

}  // namespace

void allow_torque(const AxisDrive& drive, const AxisAlong& axis, Allowed& u) {
  allow_between(axis.torque, axis.inertia, -drive.stated_peak, drive.stated_peak, u);
  if (!drive.present) return;
  const double sign = axis.direction < 0 ? -1 : 1;  // all that follows is counted in the direction of motion of each shaft
  const bool rests = axis.direction == 0;
  const FrictionSpec &joint = drive.joint_friction, &motor = drive.motor_friction;
  double speed = std::fabs(axis.speed), bend = sign * axis.bend, way = sign * axis.way;
  Lines lines;
  lines.value[0] = sign * axis.torque + joint.viscous * speed + (rests ? 0 : sign > 0 ? joint.coulomb_forward : joint.coulomb_backward);
  lines.slope[0] = sign * axis.inertia;
  bool reversed = sign < 0;
  for (std::size_t s = drive.stage_count; s-- > 0;) {
    const AxisStage& stage = drive.stage[s];
    allow_within(lines, stage.repeated_peak_torque, u);
    const double ratio = std::fabs(stage.ratio), driving = std::fabs(stage.gains.driving), back = std::fabs(stage.gains.back);
    speed *= ratio, bend *= ratio, way *= ratio;
    reversed ^= stage.ratio < 0;
    const std::size_t count = lines.count;
    const bool bends = !rests && driving != back;
    for (std::size_t k = 0; k < count; ++k) {
      if (bends) {
        lines.value[count + k] = back * lines.value[k] + stage.inertia * bend;
        lines.slope[count + k] = back * lines.slope[k] + stage.inertia * way;
      }
      lines.value[k] = driving * lines.value[k] + stage.inertia * bend;
      lines.slope[k] = driving * lines.slope[k] + stage.inertia * way;
    }
    if (bends) lines.count = 2 * count;
  }
  const double friction = motor.viscous * speed + (rests ? 0 : reversed ? motor.coulomb_backward : motor.coulomb_forward) + drive.rotor_inertia * bend;
  for (std::size_t k = 0; k < lines.count; ++k) {
    lines.value[k] += friction;
    lines.slope[k] += drive.rotor_inertia * way;
  }
  // Speeds are held elsewhere; at the very end of the curve rounding must not make the torque nothing.
  allow_within(lines, curve_torque(drive.peak, std::min(speed, drive.peak.max_speed())), u);
}

}  // namespace armwright
