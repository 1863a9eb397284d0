#include "armwright/motion/stop.hpp"

#include "catch_shim.hpp"
#include "motion/stop_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

TEST_CASE("a pendulum let go level: time to the bottom by the elliptic integral, speed there by energy") {
  // K(sin 45°) = 1.8540746773013719 (Abramowitz and Stegun, table 17.1). Level to hanging: K √(l/g); speed √(2 g / l).
  const double length = 0.7;
  CellSpec cell = pendulum(2.5, length);
  cell.arm.joints[0].lower = -quarter_turn;  // an end of the range where it hangs
  const StopAnswer answer = stopped(cell, {0}, {0});
  CHECK(answer.impact_time[0] == Approx(1.8540746773013719 * std::sqrt(length / g0)).epsilon(1e-7));
  CHECK(answer.impact_speed[0] == Approx(std::sqrt(2 * g0 / length)).epsilon(1e-7));
  CHECK(answer.tool_drop == Approx(length).epsilon(1e-9));
  CHECK(answer.tool_path == Approx(length * quarter_turn).epsilon(1e-7));
  CHECK(answer.tool_travel == Approx(length * std::sqrt(2.0)).epsilon(1e-9));
  CHECK(answer.end == StopEnd::rest);
  CHECK(answer.time == answer.impact_time[0]);
  CHECK(std::isnan(answer.impact_time[0]) == false);
}

TEST_CASE("Atwood: two masses over a pulley that are let go from rest, a = g (m1 − m2)/(m1 + m2 + J/r²)") {
  // The lighter mass as a constant pull upwards (a spring of no rate from far above), the pulley's inertia and the lighter
  // mass as the rotor's.
  const double m1 = 3, m2 = 2, J = 0.004, r = 0.1, height = 1.2;
  CellSpec cell = slope(m1, quarter_turn, 0, 5);
  DriveSpec drive = bare_drive(J + m2 * r * r);
  StageSpec drum;
  drum.ratio = 1 / r;
  drive.stages = {drum};
  cell.arm.joints[0].drive = drive;
  SpringSpec cord;
  cord.point_a = {0, 0, 50}, cord.pull = m2 * g0;
  cell.arm.springs = {cord};
  const StopAnswer answer = stopped(cell, {height}, {0});
  const double a = g0 * (m1 - m2) / (m1 + m2 + J / (r * r));
  CHECK(answer.impact_time[0] == Approx(std::sqrt(2 * height / a)).epsilon(1e-8));
  CHECK(answer.impact_speed[0] == Approx(std::sqrt(2 * height * a)).epsilon(1e-8));
}

TEST_CASE("a braked flywheel: w0 (delay + t/2) of turn, t = J w0/T, its energy into the brake") {
  CellSpec cell = pendulum(0, 0);
  cell.arm.joints[0].axis = {0, 0, 1};
  cell.arm.joints[0].lower = -1e3, cell.arm.joints[0].upper = 1e3;
  cell.arm.links[0].inertia = {1, {0, 0, 0}, 1, 1, 0.5, 0, 0, 0};
  const double w0 = 20, torque = 4, delay = 0.08, J = 0.5;
  for (const BrakeSide side : {BrakeSide::motor, BrakeSide::joint}) {
    for (const double sign : {1.0, -1.0}) {
      DriveSpec drive = bare_drive();
      BrakeSpec brake;
      brake.torque = torque, brake.delay = delay, brake.side = side;
      drive.brake = brake;
      cell.arm.joints[0].drive = drive;
      const StopAnswer answer = stopped(cell, {0}, {sign * w0});
      CHECK(answer.end == StopEnd::rest);
      CHECK(answer.time == Approx(delay + J * w0 / torque).epsilon(1e-9));
      CHECK(answer.q[0] == Approx(sign * (w0 * delay + J * w0 * w0 / (2 * torque))).epsilon(1e-9));
      CHECK(answer.travel[0] == Approx(std::fabs(answer.q[0])));
      CHECK(answer.brake_energy[0] == Approx(0.5 * J * w0 * w0).epsilon(1e-9));
      CHECK(answer.top_speed[0] == Approx(w0));
      CHECK(answer.power_off == 0);
    }
  }
}

TEST_CASE("a brake behind a lossy gear: the wheel drives it back, so that T N / eta_back brakes, and J/eta_back turns along") {
  CellSpec cell = pendulum(0, 0);
  cell.arm.joints[0].axis = {0, 0, 1};
  cell.arm.joints[0].lower = -1e3, cell.arm.joints[0].upper = 1e3;
  cell.arm.links[0].inertia = {1, {0, 0, 0}, 1, 1, 0.5, 0, 0, 0};
  DriveSpec drive = bare_drive(2e-4);
  BrakeSpec brake;
  brake.torque = 0.3;
  drive.brake = brake;
  StageSpec first, second;
  first.ratio = -3, first.efficiency_back = 0.8, first.inertia = 1e-4;
  second.ratio = 12, second.efficiency_back = 0.6, second.inertia = 5e-4;
  drive.stages = {first, second};
  cell.arm.joints[0].drive = drive;
  const double w0 = 3, through = 1 / (0.8 * 0.6);
  // Balance at the axis while it drives: J a = −(36² (Jm + J1) a/(0.8·0.6) + 12² J2 a/0.6 + 36 T/(0.8·0.6)), from the motor out.
  const double inertia = 0.5 + 36 * 36 * 3e-4 * through + 144 * 5e-4 / 0.6, torque = 36 * 0.3 * through;
  // Decelerating so, each stage must be driven back indeed: brake torque beyond what its own inertia gives up.
  REQUIRE(36 * 0.3 > 36 * 36 * 3e-4 * torque / inertia);
  const StopAnswer answer = stopped(cell, {0}, {w0});
  CHECK(answer.time == Approx(inertia * w0 / torque).epsilon(1e-9));
  CHECK(answer.q[0] == Approx(inertia * w0 * w0 / (2 * torque)).epsilon(1e-9));
}

TEST_CASE("a block on an incline with Coulomb friction: up, rest or down again by the usual formulas") {
  const double m = 4, angle = 0.5, v0 = 3;
  for (const double mu : {0.3, 0.7}) {  // tan(0.5) = 0.546: slides down again, or stays
    CellSpec cell = slope(m, angle, 0, 10);
    DriveSpec drive = bare_drive();
    drive.joint_friction = {mu * m * g0 * std::cos(angle), mu * m * g0 * std::cos(angle), 0};
    cell.arm.joints[0].drive = drive;
    const StopAnswer answer = stopped(cell, {1}, {v0});
    const double up = g0 * (std::sin(angle) + mu * std::cos(angle)), way = v0 * v0 / (2 * up);
    if (mu > std::tan(angle)) {
      CHECK(answer.end == StopEnd::rest);
      CHECK(answer.time == Approx(v0 / up).epsilon(1e-9));
      CHECK(answer.q[0] == Approx(1 + way).epsilon(1e-9));
      CHECK(answer.impact_speed[0] == 0);
    } else {
      const double down = g0 * (std::sin(angle) - mu * std::cos(angle)), back = 1 + way;
      CHECK(answer.impact_time[0] == Approx(v0 / up + std::sqrt(2 * back / down)).epsilon(1e-8));
      CHECK(answer.impact_speed[0] == Approx(std::sqrt(2 * back * down)).epsilon(1e-8));
      CHECK(answer.travel[0] == Approx(way + back).epsilon(1e-8));
      CHECK(answer.q[0] == 0);
    }
  }
}

TEST_CASE("stuck or loose: a bar is held up to brake times ratio over what driving back leaves, and not beyond") {
  const double mass = 5, length = 0.6, weight = mass * g0 * length, ratio = 50, back = 0.7;
  for (const double share : {0.999, 1.001}) {
    CellSpec cell = pendulum(mass, length);
    DriveSpec drive = bare_drive(1e-4);
    StageSpec stage;
    stage.ratio = ratio, stage.efficiency_back = back;
    drive.stages = {stage};
    BrakeSpec brake;
    // What the axis brings to the motor's shaft is weight · back / ratio; friction on both sides helps.
    const double motor_coulomb = 0.02, joint_coulomb = 1.5;
    brake.torque = share * ((weight - joint_coulomb) * back / ratio - motor_coulomb);
    drive.brake = brake;
    drive.motor_friction = {motor_coulomb, motor_coulomb, 0};
    drive.joint_friction = {joint_coulomb, joint_coulomb, 0};
    cell.arm.joints[0].drive = drive;
    const StopAnswer answer = stopped(cell, {0}, {0});
    if (share > 1) {
      CHECK(answer.end == StopEnd::rest);
      CHECK(answer.time == 0);
      CHECK(answer.travel[0] == 0);
    } else {
      // As it sinks its lever gets shorter: it ends where it gets as much below balance as it began above, about.
      CHECK(answer.travel[0] > 1e-3);
      CHECK(answer.q[0] < 0);
    }
  }
}

TEST_CASE("a worm that can hardly be driven back halts at once whatever hangs on it; its motor runs on alone") {
  CellSpec cell = pendulum(5, 0.6);
  DriveSpec drive = bare_drive(1e-4);
  StageSpec worm;
  worm.ratio = 60, worm.efficiency = 0.4, worm.efficiency_back = 1e-6;
  drive.stages = {worm};
  drive.motor_friction = {0.05, 0.05, 0};
  cell.arm.joints[0].drive = drive;
  CHECK(stopped(cell, {0}, {0}).travel[0] == 0);
  // Moving downwards the rotor comes to rest by its own friction, and the bar with it: J N w0 / T.
  const StopAnswer down = stopped(cell, {0}, {-0.5});
  CHECK(down.end == StopEnd::rest);
  CHECK(down.time == Approx(1e-4 * 60 * 0.5 / 0.05).epsilon(1e-4));
}

TEST_CASE("category 1: even deceleration, all together, then the brake's delay without power") {
  CellSpec cell;
  cell.arm.joints = {joint("lift", identity_pose, {0, 0, 1}, -50, 50), joint("drive", identity_pose, {1, 0, 0}, -50, 50)};
  for (JointSpec& j : cell.arm.joints) j.kind = JointKind::prismatic;
  cell.arm.links.resize(2);
  cell.arm.links[1].inertia = {10, {0, 0, 0}};
  for (JointSpec& j : cell.arm.joints) {
    DriveSpec drive = bare_drive(0.001);
    drive.motor.continuous = drive.motor.peak = {{0, 500}, {1000, 500}};
    BrakeSpec brake;
    brake.torque = 300, brake.delay = 0.05;
    drive.brake = brake;
    j.drive = drive;
  }
  StopOptions options = controlled(4);
  options.reaction = 0.1;
  const StopAnswer answer = stopped(cell, {0, 0}, {-1, 2}, options);
  CHECK(answer.power_off == Approx(0.1 + 2.0 / 4));
  CHECK(answer.q[1] == Approx(2 * 0.1 + 2.0 * 2 / (2 * 4)).epsilon(1e-8));
  CHECK_FALSE(answer.saturated);
  // The lift comes down 1 m/s · (0.1 + 0.25) s, then falls for the delay and is caught by 300 N.
  const double fall = 0.5 * g0 * 0.05 * 0.05 * 10 / 10.001, speed = g0 * 0.05 * 10 / 10.001, slowing = (300 - 10 * g0) / 10.001;
  CHECK(answer.q[0] == Approx(-0.1 - 0.25 - fall - speed * speed / (2 * slowing)).epsilon(1e-8));
  CHECK(answer.time == Approx(0.6 + 0.05 + speed / slowing).epsilon(1e-8));
  CHECK(answer.end == StopEnd::rest);
}

TEST_CASE("category 1 with all the motor gives, and with less than asked for") {
  CellSpec cell = slope(10, 0);
  DriveSpec drive = bare_drive(0);
  drive.motor.continuous = drive.motor.peak = {{0, 30}, {1, 30}, {3, 10}};
  cell.arm.joints[0].drive = drive;
  for (const double asked : {unlimited, 8.0}) {  // 30 N on 10 kg: 3 m/s² at most
    const StopAnswer answer = stopped(cell, {0}, {1}, controlled(asked));
    CHECK(answer.q[0] == Approx(1.0 / (2 * 3)).epsilon(1e-8));
    CHECK(answer.saturated == (asked == 8.0));
  }
  const StopAnswer gentle = stopped(cell, {0}, {1}, controlled(0.5));
  CHECK(gentle.q[0] == Approx(1).epsilon(1e-8));
  CHECK_FALSE(gentle.saturated);
  // Fast, where the curve falls from 30 N at 1 m/s to 10 N at 3 m/s: v' = −(4 − v), so v = 4 − (4 − v0) e^t.
  const StopAnswer fast = stopped(cell, {0}, {2}, controlled(unlimited));
  const double t1 = std::log(3.0 / 2.0), way = 4 * t1 - 2 * (std::exp(t1) - 1);
  CHECK(fast.q[0] == Approx(way + 1.0 / 6).epsilon(3e-6));  // the bend of the curve lies within a step
  CHECK(fast.time == Approx(t1 + 1.0 / 3).epsilon(3e-6));
}

TEST_CASE("viscous friction alone: the way is J w0 / c, come to rest as far as anyone can see") {
  CellSpec cell = slope(2, 0);
  DriveSpec drive = bare_drive();
  drive.joint_friction.viscous = 4;
  cell.arm.joints[0].drive = drive;
  StopOptions options;
  options.time_limit = 30;
  const StopAnswer answer = stopped(cell, {0}, {1.5}, options);
  CHECK(answer.end == StopEnd::rest);
  CHECK(answer.q[0] == Approx(2 * 1.5 / 4).epsilon(1e-6));
}

TEST_CASE("rows are even in time and end where the stop ends") {
  CellSpec cell = pendulum(2, 0.5);
  DriveSpec drive = bare_drive(0.01);
  BrakeSpec brake;
  brake.torque = 30, brake.delay = 0.05;
  drive.brake = brake;
  cell.arm.joints[0].drive = drive;
  StopOptions options;
  options.row_step = 0.01;
  const StopAnswer answer = stopped(cell, {0.3}, {1}, options);
  const StopRows& rows = answer.rows;
  REQUIRE(rows.time.size() > 5);
  for (std::size_t r = 0; r + 1 < rows.time.size(); ++r) CHECK(rows.time[r] == Approx(0.01 * static_cast<double>(r)));
  CHECK(rows.time.back() == answer.time);
  CHECK(rows.q.front() == 0.3);
  CHECK(rows.q.back() == answer.q[0]);
  CHECK(rows.speed.back() == 0);
  CHECK(rows.tool[2] == Approx(0.5 * std::sin(0.3)));
}

TEST_CASE("an axis without inertia that is let go is told") {
  CellSpec cell = pendulum(0, 0.5);
  const StopAnswer answer = stopped(cell, {0}, {1});
  CHECK(answer.end == StopEnd::no_inertia);
  CHECK(answer.joint == 0);
}
