#include "catch_shim.hpp"
#include "motion/stop_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double wheel_inertia = 0.5;

CellSpec flywheel() {
  CellSpec cell = pendulum(0, 0);
  cell.arm.joints[0].axis = {0, 0, 1};
  cell.arm.joints[0].lower = -1e3, cell.arm.joints[0].upper = 1e3;
  cell.arm.links[0].inertia = {1, {0, 0, 0}, 1, 1, wheel_inertia, 0, 0, 0};
  return cell;
}

StageSpec gear(double ratio, double efficiency = 1, double back = 1, double inertia = 0) {
  StageSpec stage;
  stage.ratio = ratio, stage.efficiency = efficiency, stage.efficiency_back = back, stage.inertia = inertia;
  return stage;
}

BrakeSpec brake_of(double torque, double delay = 0, BrakeSide side = BrakeSide::motor) {
  BrakeSpec brake;
  brake.torque = torque, brake.delay = delay, brake.side = side;
  return brake;
}

}  // namespace

TEST_CASE("a flywheel braked at the motor: its gear carries J a, with a = (N T/eta_back)/(J + N² Jr/eta_back)") {
  const double ratio = 40, torque = 0.3, rotor = 2e-4, delay = 0.05;
  for (const double back : {1.0, 0.7}) {
    for (const double turn : {1.0, -1.0}) {
      CellSpec cell = flywheel();
      DriveSpec drive = bare_drive(rotor);
      drive.stages = {gear(turn * ratio, 0.8, back)};
      drive.brake = brake_of(torque, delay);
      cell.arm.joints[0].drive = drive;
      const double slowing = ratio * torque / back / (wheel_inertia + ratio * ratio * rotor / back);
      REQUIRE(torque > rotor * ratio * slowing);  // so that the wheel drives the gear back indeed
      const StopAnswer answer = stopped(cell, {0}, {3});
      CHECK(answer.time == Approx(delay + 3 / slowing).epsilon(1e-9));
      CHECK(answer.stage_torque[0][0] == Approx(wheel_inertia * slowing).epsilon(1e-9));
      CHECK(answer.stage_torque_time[0][0] >= delay);
      CHECK(answer.stage_torque[0][1] == 0);
      CHECK(std::isnan(answer.stage_torque_time[0][1]));
    }
  }
}

TEST_CASE("braked at the joint, its gear carries what stops rotor and stage: the rotor drives, eta N² Jr a") {
  const double ratio = 40, torque = 30, rotor = 2e-4, inertia = 1e-4, efficiency = 0.8;
  CellSpec cell = flywheel();
  DriveSpec drive = bare_drive(rotor);
  drive.stages = {gear(ratio, efficiency, 0.7, inertia)};
  drive.brake = brake_of(torque, 0, BrakeSide::joint);
  cell.arm.joints[0].drive = drive;
  const double through = efficiency * ratio * ratio * (rotor + inertia), slowing = torque / (wheel_inertia + through);
  const StopAnswer answer = stopped(cell, {0}, {-3});
  CHECK(answer.time == Approx(3 / slowing).epsilon(1e-9));
  CHECK(answer.stage_torque[0][0] == Approx(through * slowing).epsilon(1e-9));
}

TEST_CASE("two stages with losses: each carries what is left of the brake's torque, from the motor out") {
  CellSpec cell = flywheel();
  DriveSpec drive = bare_drive(2e-4);
  drive.stages = {gear(-3, 0.9, 0.8, 1e-4), gear(12, 0.9, 0.6, 5e-4)};
  drive.brake = brake_of(0.3);
  cell.arm.joints[0].drive = drive;
  const double inertia = wheel_inertia + 36 * 36 * 3e-4 / (0.8 * 0.6) + 144 * 5e-4 / 0.6, slowing = 36 * 0.3 / (0.8 * 0.6) / inertia;
  const double first = 3 / 0.8 * (0.3 - 3e-4 * 36 * slowing), second = 12 / 0.6 * (first - 5e-4 * 12 * slowing);
  const StopAnswer answer = stopped(cell, {0}, {3});
  CHECK(answer.stage_torque[0][0] == Approx(first).epsilon(1e-9));
  CHECK(answer.stage_torque[0][1] == Approx(second).epsilon(1e-9));
  CHECK(second == Approx(wheel_inertia * slowing));
}

TEST_CASE("friction at the axis comes on top of what the gear carries while it drives") {
  // The motor brakes evenly against the wheel, helped by friction: J a = T_gear + friction.
  CellSpec cell = flywheel();
  DriveSpec drive = bare_drive(1e-4);
  drive.motor.continuous = drive.motor.peak = {{0, 50}, {1000, 50}};
  drive.stages = {gear(10)};
  drive.joint_friction = {1.5, 1.5, 0.25};
  cell.arm.joints[0].drive = drive;
  const double asked = 20, speed = 4;
  const StopAnswer answer = stopped(cell, {0}, {speed}, controlled(asked));
  // Least friction, and so the most for the gear, just before it stands.
  CHECK(answer.stage_torque[0][0] == Approx(wheel_inertia * asked - 1.5).epsilon(1e-7));
  CHECK(answer.stage_torque_time[0][0] == Approx(speed / asked).epsilon(1e-6));
}

TEST_CASE("a pendulum that rises when its brake bites: the gear's torque jumps there and is greatest") {
  const double mass = 5, length = 0.6, ratio = 50, rotor = 1e-4, torque = 3, start = -0.4;
  CellSpec cell = pendulum(mass, length);
  DriveSpec drive = bare_drive(rotor);
  drive.stages = {gear(ratio)};
  drive.brake = brake_of(torque);
  cell.arm.joints[0].drive = drive;
  const double own = mass * length * length, all = own + ratio * ratio * rotor, weight = mass * g0 * length * std::cos(start);
  const double slowing = (ratio * torque + weight) / all;
  const StopAnswer answer = stopped(cell, {start}, {2});
  CHECK(answer.stage_torque[0][0] == Approx(own * slowing - weight).epsilon(1e-9));
  CHECK(answer.stage_torque_time[0][0] == 0);
  // Sinking onto the brake: it bites after its delay, the same balance with the weight the other way, where it is by then.
  drive.brake = brake_of(torque, 0.08);
  cell.arm.joints[0].drive = drive;
  StopOptions options;
  options.row_step = 0.08;
  const StopAnswer falling = stopped(cell, {1.2}, {-2}, options);
  REQUIRE(falling.rows.time.size() > 1);
  const double pull = mass * g0 * length * std::cos(falling.rows.q[1]);
  const double at_bite = own * (ratio * torque - pull) / all + pull;
  CHECK(falling.stage_torque[0][0] >= at_bite * (1 - 1e-9));
  // Later the lever grows as it sinks, and with it what the gear bears: greatest just before it stands.
  const double stands = mass * g0 * length * std::cos(falling.q[0]);
  CHECK(falling.stage_torque[0][0] == Approx(own * (ratio * torque - stands) / all + stands).epsilon(1e-7));
}

TEST_CASE("what stands: the gear holds the weight; not what the joint's brake takes off, nor the end of the range") {
  const double mass = 5, length = 0.6, weight = mass * g0 * length;
  CellSpec cell = pendulum(mass, length);
  DriveSpec drive = bare_drive(1e-4);
  drive.stages = {gear(50)};
  drive.brake = brake_of(3);
  cell.arm.joints[0].drive = drive;
  CHECK(stopped(cell, {0}, {0}).stage_torque[0][0] == Approx(weight));
  drive.brake = brake_of(100, 0, BrakeSide::joint);
  cell.arm.joints[0].drive = drive;
  CHECK(stopped(cell, {0}, {0}).stage_torque[0][0] == 0);
  drive.brake.reset();
  cell.arm.joints[0].drive = drive;
  cell.arm.joints[0].lower = 0;
  const StopAnswer lying = stopped(cell, {1e-3}, {0});  // falls onto its end, which then bears it
  REQUIRE(lying.end == StopEnd::rest);
  REQUIRE(lying.impact_speed[0] > 0);
  const double all = mass * length * length + 2500e-4;
  CHECK(lying.stage_torque[0][0] == Approx(2500e-4 * weight / all).epsilon(1e-4));  // what turns the rotor as it falls
}
