#include "catch_shim.hpp"
#include "motion/stop_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double mass = 10, weight = mass * g0, closing = 0.05;

// A body on an upright slide, its motor and brake at the body itself.
CellSpec lift(double motor_peak, double brake_force) {
  CellSpec cell = slope(mass, quarter_turn);
  DriveSpec drive = bare_drive();
  drive.motor.continuous = drive.motor.peak = {{0, motor_peak}, {1000, motor_peak}};
  BrakeSpec brake;
  brake.torque = brake_force, brake.delay = closing;
  drive.brake = brake;
  cell.arm.joints[0].drive = drive;
  return cell;
}

StopOptions held(double hold) {
  StopOptions options = controlled(4);
  options.hold = hold;
  return options;
}

}  // namespace

TEST_CASE("held by the motors until its brakes have closed, it stays where it came to rest") {
  const double stands = 1.0 / 4, way = 1.0 / (2 * 4);
  for (const double hold : {closing, 0.3}) {
    const StopAnswer answer = stopped(lift(500, 300), {0}, {-1}, held(hold));
    CHECK(answer.end == StopEnd::rest);
    CHECK(answer.q[0] == Approx(-way).epsilon(1e-8));
    CHECK(answer.tool_drop == Approx(way).epsilon(1e-8));
    CHECK(answer.time == Approx(stands).epsilon(1e-8));
    CHECK(answer.power_off == Approx(stands + hold).epsilon(1e-8));
    CHECK_FALSE(answer.saturated);
    CHECK(answer.brake_energy[0] == 0);
  }
  // At rest from the beginning: not a hair.
  CHECK(stopped(lift(500, 300), {0}, {0}, held(closing)).travel[0] == 0);
}

TEST_CASE("held for less than its brakes take, it falls for the rest of that time") {
  const double hold = 0.02, falls = closing - hold, speed = g0 * falls, slowing = (300 - weight) / mass;
  const StopAnswer answer = stopped(lift(500, 300), {0}, {0}, held(hold));
  CHECK(answer.q[0] == Approx(-0.5 * g0 * falls * falls - speed * speed / (2 * slowing)).epsilon(1e-8));
  CHECK(answer.power_off == hold);
  CHECK(answer.time == Approx(closing + speed / slowing).epsilon(1e-8));
  // Not held at all: the brakes are told when the power goes, and it falls for all of their delay.
  const StopAnswer let_go = stopped(lift(500, 300), {0}, {0}, held(0));
  CHECK(let_go.time == Approx(closing + g0 * closing / slowing).epsilon(1e-8));
}

TEST_CASE("a motor that cannot hold sinks with its peak torque against it, and that is told") {
  // It never stands under control, so that the power goes a second after it ought to, and the brake closes after that.
  const double peak = 60, sinks = (weight - peak) / mass, speed = sinks + g0 * closing, slowing = (300 - weight) / mass;
  const double way = 0.5 * sinks + sinks * closing + 0.5 * g0 * closing * closing + speed * speed / (2 * slowing);
  const StopAnswer answer = stopped(lift(peak, 300), {0}, {0}, held(0.2));
  CHECK(answer.saturated);
  CHECK(answer.q[0] == Approx(-way).epsilon(1e-7));
  CHECK(answer.power_off == Approx(1));
  CHECK(answer.end == StopEnd::rest);
}

TEST_CASE("a brake that does not hold lets go when the power does, and a time limit before that changes nothing") {
  StopOptions options = held(0.2);
  options.time_limit = 0.5;
  const StopAnswer falls = stopped(lift(500, 50), {0}, {0}, options);
  CHECK(falls.end == StopEnd::still_moving);
  CHECK(falls.q[0] == Approx(-0.5 * (weight - 50) / mass * 0.3 * 0.3).epsilon(1e-7));
  options.time_limit = 0.1;
  CHECK(stopped(lift(500, 50), {0}, {0}, options).end == StopEnd::still_moving);
  CHECK(stopped(lift(500, 300), {0}, {0}, options).end == StopEnd::rest);
}
