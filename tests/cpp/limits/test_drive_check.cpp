#include "armwright/limits/drive_check.hpp"

#include <algorithm>

#include "armwright/limits/power.hpp"
#include "armwright/limits/setpoints.hpp"
#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

Model turntable(double efficiency = 0.9) {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, 0, 1})};
  cell.arm.links.resize(1);
  cell.arm.links[0].name = "link 1";
  cell.arm.links[0].inertia = {20, {0, 0, 0}, 12, 12, 12, 0, 0, 0};
  DriveSpec drive;
  drive.motor.continuous = {{0, 2}, {300, 2}, {600, 1}};
  drive.motor.peak = {{0, 6}, {600, 6}};
  drive.motor.rotor_inertia = 2e-4;
  drive.motor.torque_constant = 0.5;
  drive.motor.winding_loss = 4;
  StageSpec stage;
  stage.ratio = 100, stage.efficiency = stage.efficiency_back = efficiency;
  stage.rated_torque = 200, stage.repeated_peak_torque = 400, stage.rated_life = 3.6e7, stage.rated_input_speed = 200;
  drive.stages = {stage};
  cell.arm.joints[0].drive = drive;
  return compile(cell);
}

const Share& share_of(const DriveCheck& check, CheckLimit limit) {
  return *std::find_if(check.shares.begin(), check.shares.end(), [&](const Share& s) { return s.limit == limit; });
}

}  // namespace

// Worked by hand: J 12 kg m², ratio 100, rotor 2e-4 kg m², efficiency 0.9, 90° in 0.6 s in thirds, 0.6 s of rest.
TEST_CASE("drive check of a turntable") {
  const Model model = turntable();
  const DrivenMotion driven = driven_motion(model, {}, thirds(quarter_turn, 0.6, 0.6), 0.01);
  const DriveCheck check = drive_check(model, driven, axis_inertias(model, {}, driven.motion), true);
  const MotorCheck& motor = check.axis[0].motor;
  CHECK(motor.peak_torque == Approx(3.0106930).epsilon(1e-7));
  CHECK(motor.rms_torque == Approx(1.6010840).epsilon(1e-7));
  CHECK(motor.greatest_speed == Approx(392.69908).epsilon(1e-7));
  CHECK(motor.mean_speed == Approx(100 * quarter_turn / 1.2).epsilon(1e-9));
  const double rms_speed = 392.69908 * std::sqrt((0.2 + 2 * 0.2 / 3) / 1.2);
  CHECK(motor.rms_speed == Approx(rms_speed).epsilon(1e-4));
  CHECK(motor.continuous_torque == 2);
  CHECK(motor.greatest_inertia_ratio == Approx(6));
  CHECK(motor.duty.type == DutyType::s5);
  CHECK(motor.duty.duration_factor == Approx(0.5));
  const StageCheck& stage = check.axis[0].stage[0];
  const double load = 12 * 19.6349541;
  CHECK(stage.peak_torque == Approx(load));
  CHECK(stage.rms_torque == Approx(load * std::sqrt(1.0 / 3)));  // two thirds of half the cycle
  // each ramp turns a quarter of the angle, half of it in all, under the same torque
  CHECK(stage.mean_torque == Approx(load * std::cbrt(0.5)).epsilon(1e-6));
  CHECK(stage.life == Approx(3.6e7 * 200 / motor.mean_speed * std::pow(200 / stage.mean_torque, 3)));
  CHECK(share_of(check, CheckLimit::motor_peak_torque).share == Approx(3.0106930 / 6));
  CHECK(share_of(check, CheckLimit::motor_continuous_torque).share == Approx(1.6010840 / 2));
  CHECK(check.shares[static_cast<std::size_t>(check.weakest)].limit == CheckLimit::stage_mean_torque);
  const DrivenMotion pure = driven_motion(turntable(1), {}, thirds(quarter_turn, 0.6, 0.6), 0.01);
  CHECK(drive_check(turntable(1), pure, {}, true).axis[0].motor.rms_torque == Approx(1.5870744).epsilon(1e-7));
}

TEST_CASE("torque between rows is resolved: finer rows give the same answers") {
  Draw draw{11};
  const Model model = driven_arm(draw, 5);
  const std::vector<Inertia> loads{draw.body()};
  const TimedMotion motion = swinging(draw, 5, 2, 0);
  const auto checked = [&](double step) { return drive_check(model, driven_motion(model, loads, motion, step), {}, true); };
  const DriveCheck coarse = checked(0.005), fine = checked(0.0005);
  for (std::size_t k = 0; k < 5; ++k) {
    CHECK(coarse.axis[k].motor.rms_torque == Approx(fine.axis[k].motor.rms_torque).epsilon(2e-3));
    CHECK(coarse.axis[k].motor.peak_torque == Approx(fine.axis[k].motor.peak_torque).epsilon(5e-3));
    CHECK(coarse.axis[k].stage[0].mean_torque == Approx(fine.axis[k].stage[0].mean_torque).epsilon(2e-3));
  }
}

TEST_CASE("root mean squares against plain sampling of the motor torques") {
  Draw draw{12};
  const Model model = driven_arm(draw, 4);
  const std::vector<Inertia> loads{draw.body()};
  const TimedMotion motion = swinging(draw, 4, 1.5, 0);
  const DriveCheck check = drive_check(model, driven_motion(model, loads, motion, 0.001), {}, true);
  const Setpoints points = setpoints(model, loads, motion, 20000);
  for (std::size_t k = 0; k < 4; ++k) {
    double square = 0;
    for (std::size_t at = k; at < points.driven.motor_torque.size(); at += 4) square += points.driven.motor_torque[at] * points.driven.motor_torque[at];
    CHECK(check.axis[k].motor.rms_torque == Approx(std::sqrt(square / static_cast<double>(points.driven.motion.rows()))).epsilon(1e-3));
  }
}

TEST_CASE("energy over a cycle: what the motors draw is what is lost, since the arm ends as it began") {
  Draw draw{13};
  for (const std::size_t joints : {2u, 4u, 6u}) {
    Model model = driven_arm(draw, joints);
    for (Drive& drive : model.drive) drive.winding_loss *= 0.05;
    const std::vector<Inertia> loads{draw.body()};
    const DrivenMotion driven = driven_motion(model, loads, swinging(draw, joints, 1.2, 0), 0.0005);
    const PowerCourse power = power_course(model, driven);
    double electrical = 0, winding = 0, friction = 0, through = 0;
    for (std::size_t r = 0; r + 1 < driven.motion.rows(); ++r) {
      const double h = 0.5 * (driven.motion.time[r + 1] - driven.motion.time[r]);
      electrical += h * (power.electrical[r] + power.electrical[r + 1]);
      through += h * (std::fabs(power.electrical[r]) + std::fabs(power.electrical[r + 1]));
      for (std::size_t k = 0; k < joints; ++k) {
        winding += h * (power.winding[r * joints + k] + power.winding[(r + 1) * joints + k]);
        friction += h * (power.friction[r * joints + k] + power.friction[(r + 1) * joints + k]);
      }
    }
    for (const double f : power.friction) CHECK(f >= -1e-9);
    CHECK(electrical == Approx(winding + friction).margin(2e-4 * through));
    CHECK(through > 1.05 * electrical);  // energy went both ways
  }
}

TEST_CASE("power of the turntable at its corners, currents, bus and mains") {
  const Model model = turntable();
  const DrivenMotion driven = driven_motion(model, {}, thirds(quarter_turn, 0.6, 0.6), 0.01);
  const PowerCourse power = power_course(model, driven);
  SupplySpec supply;
  supply.capacitance = 1e-3;
  supply.breaker_current = 16;
  const PowerCheck check = power_check(model, driven, power, supply);
  const double up = 3.0106930, down = 2.5132741, w = 392.69908;
  CHECK(check.electrical_peak == Approx(up * w + 4 * up * up).epsilon(1e-6));
  CHECK(check.return_peak == Approx(down * w - 4 * down * down).epsilon(1e-6));
  CHECK(check.motor_current_peak[0] == Approx(up / 0.5).epsilon(1e-6));
  CHECK(check.motor_current_rms[0] == Approx(1.6010840 / 0.5).epsilon(1e-6));
  // power falls straight from P0 below zero to +4 down² at rest: the triangle below zero comes back
  const double p0 = check.return_peak, loss = 4 * down * down, back = 0.5 * p0 * 0.2 * p0 / (p0 + loss);
  CHECK(check.bus.returned == Approx(back).epsilon(1e-4));
  const double room = 23.2375;
  CHECK(check.bus.burnt == Approx(back - room).epsilon(1e-3));
  CHECK(check.bus_greatest_voltage == Approx(390));
  CHECK(check.resistor_mean == Approx(check.bus.burnt / 1.2));
  CHECK(check.mains_mean == Approx(check.electrical_mean + check.resistor_mean).epsilon(1e-6));
  CHECK(check.current_peak == Approx(check.mains_peak / 230));
  CHECK(check.branch_share == Approx(check.mains_rms / 230 / 12.8));
  supply.capacitance = 1;
  CHECK(power_check(model, driven, power, supply).bus.burnt == 0);
}

TEST_CASE("setpoints pass the corners at their times, in motor turns and counts of the rate") {
  const Model model = turntable();
  const Setpoints points = setpoints(model, {}, thirds(quarter_turn, 0.6, 0.6), 250);
  const RefinedMotion& m = points.driven.motion;
  REQUIRE(m.rows() == 301);
  CHECK(m.time[300] == Approx(1.2));
  CHECK(m.q[50] == Approx(quarter_turn / 4));
  CHECK(m.q[100] == Approx(0.75 * quarter_turn));
  CHECK(m.speed[75] == Approx(3.9269908));
  CHECK(m.q[25] == Approx(0.5 * 19.6349541 * 0.01));
  CHECK(points.motor_position[150] == Approx(100 * quarter_turn));
  CHECK(points.driven.motor_torque[25] == Approx(3.0106930).epsilon(1e-7));
  CHECK(points.driven.motor_torque[125] == Approx(-2.5132741).epsilon(1e-7));
  CHECK(points.greatest_motor_speed[0] == Approx(392.69908).epsilon(1e-7));
  CHECK(setpoints(model, {}, thirds(quarter_turn, 0.6, 0), 7).driven.motion.rows() == 6);  // 0, 1/7 .. 4/7, and the end
}

TEST_CASE("rows double where an axis turns back, and each knows the way on its side") {
  TimedMotion motion;
  add_row(motion, 0, {0, 0}, {1, 0}, {-2, 0});
  add_row(motion, 1, {0, 0}, {-1, 0}, {-2, 0});  // there and back: at rest in the middle
  Draw draw{3};
  const Model model = driven_arm(draw, 2);
  const RefinedMotion m = refined_motion(model, motion, 1);
  REQUIRE(m.rows() == 4);
  CHECK(m.time[1] == Approx(0.5));
  CHECK(m.time[2] == m.time[1]);
  CHECK(m.q[2] == Approx(0.25));
  CHECK(m.speed[2] == Approx(0).margin(1e-12));
  CHECK(m.direction[2] == 1);
  CHECK(m.direction[4] == -1);
  CHECK(m.direction[1] == 0);
}
