#include "armwright/motion/drive_torques.hpp"

#include <algorithm>

#include "armwright/dynamics/inverse_dynamics.hpp"
#include "catch_shim.hpp"
#include "drive_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

DriveSpec geared(double ratio, double efficiency, double efficiency_back, double rotor) {
  DriveSpec drive;
  drive.motor.continuous = drive.motor.peak = {{0, 5}, {700, 5}};
  drive.motor.rotor_inertia = rotor;
  StageSpec stage;
  stage.ratio = ratio, stage.efficiency = efficiency, stage.efficiency_back = efficiency_back;
  drive.stages = {stage};
  return drive;
}

}  // namespace

// J 12 kg m², ratio 100, rotor 2e-4 kg m², efficiency 0.9 both ways, 90° in 0.6 s in thirds: worked by hand.
TEST_CASE("a turntable's motor torque while it speeds up and while it brakes") {
  const AxisDrive axis = axis_of(geared(100, 0.9, 0.9, 2e-4));
  const double a = 19.6349541, load = 12 * a, w = 2;
  CHECK(motor_torque(axis, load, w, a, w) - 2e-4 * 100 * a == Approx(12 * a / 90).epsilon(1e-9));
  CHECK(motor_torque(axis, load, w, a, w) == Approx(3.0106930).epsilon(1e-7));
  CHECK(motor_torque(axis, -load, w, -a, w) == Approx(-2.5132741).epsilon(1e-7));
  CHECK(drive_state(axis, load, 3.9269908, a, 1.0).motor_speed * 60 / 6.283185307179586 == Approx(3750).epsilon(1e-7));
  CHECK(motor_torque(axis, load, 0.0, 0.0, 0.0) == Approx(load / 90));
  CHECK(motor_torque(axis, -load, 0.0, 0.0, 0.0) == Approx(-load / 90));  // at rest: as if it had to start
}

TEST_CASE("a stage that reverses gives the mirror image") {
  Draw draw{4};
  for (int i = 0; i < 50; ++i) {
    DriveSpec spec = random_drive(draw, 2);
    spec.motor_friction.coulomb_backward = spec.motor_friction.coulomb_forward;
    const AxisDrive axis = axis_of(spec);
    spec.stages[0].ratio = -spec.stages[0].ratio;
    const AxisDrive other = axis_of(spec);
    const double t = draw.uniform(-80, 80), w = draw.uniform(-3, 3), a = draw.uniform(-9, 9);
    CHECK(motor_torque(axis, t, w, a, w) == Approx(-motor_torque(other, t, w, a, w)).margin(1e-12));
  }
}

TEST_CASE("power: what the motor gives is what arrives, what speeds the shafts up and what is lost, and losses are never negative") {
  Draw draw{5};
  for (int i = 0; i < 300; ++i) {
    const DriveSpec spec = random_drive(draw, static_cast<std::size_t>(i % 5));
    const AxisDrive axis = axis_of(spec);
    const double t = draw.uniform(-80, 80), w = draw.uniform(-3, 3), a = draw.uniform(-9, 9);
    const DriveState<double> state = drive_state(axis, t, w, a, w);
    double kinetic = spec.motor.rotor_inertia * state.motor_speed * state.motor_speed * a / w;
    for (std::size_t s = 0; s < spec.stages.size(); ++s) kinetic += spec.stages[s].inertia * state.stage_speed[s] * state.stage_speed[s] * a / w;
    const double lost = state.motor_torque * state.motor_speed - t * w - kinetic;
    CHECK(lost >= -1e-12);
    DriveSpec ideal = spec;
    ideal.motor_friction = ideal.joint_friction = {};
    for (StageSpec& stage : ideal.stages) stage.efficiency = stage.efficiency_back = 1;
    const DriveState<double> pure = drive_state(axis_of(ideal), t, w, a, w);
    CHECK(pure.motor_torque * pure.motor_speed == Approx(t * w + kinetic).margin(1e-9));
  }
}

TEST_CASE("in the direction of motion the motor's torque rises with the axis' and is convex") {
  Draw draw{6};
  for (int i = 0; i < 300; ++i) {
    const AxisDrive axis = axis_of(random_drive(draw, 1 + static_cast<std::size_t>(i % 4)));
    const double w = draw.uniform(-3, 3), side = w * axis.ratio < 0 ? -1 : 1, axis_side = w < 0 ? -1 : 1;
    const double t = draw.uniform(-80, 80), dt = draw.uniform(-40, 40), a = draw.uniform(-9, 9), da = draw.uniform(-9, 9);
    const auto f = [&](double x) { return side * motor_torque(axis, t + x * dt, w, a + x * da, w); };
    CHECK(0.5 * (f(-1) + f(1)) >= f(0) - 1e-12);
    CHECK(side * motor_torque(axis, t + axis_side * 3, w, a, w) > f(0));
  }
}

TEST_CASE("the interval of axis torques is where every limit holds, and its ends name the part that is at its limit") {
  Draw draw{7};
  for (int i = 0; i < 400; ++i) {
    const double stated = i % 7 == 0 ? draw.uniform(5, 60) : unlimited;
    const AxisDrive axis = axis_of(random_drive(draw, static_cast<std::size_t>(i % 5)), stated);
    const double w = i % 11 == 0 ? 0 : draw.uniform(-1, 1) * 650 / std::fabs(axis.ratio), a = draw.uniform(-9, 9);
    const TorqueInterval interval = axis_torque_interval(axis, w, a, w, DriveLimit::repeated_peak);
    if (interval.empty()) continue;
    const double most = curve_torque(axis.peak, w * axis.ratio);
    const auto slack = [&](double t, std::int8_t only) {  // least distance to a limit; negative: past it
      const DriveState<double> state = drive_state(axis, t, w, a, w);
      double least = unlimited;
      if (only == part_none || only == part_motor) least = std::min(least, most - std::fabs(state.motor_torque));
      if (only == part_none || only == part_stated) least = std::min(least, stated - std::fabs(t));
      for (std::size_t s = 0; s < axis.stage_count; ++s)
        if (only == part_none || only == static_cast<int>(s)) least = std::min(least, axis.stage[s].repeated_peak_torque - std::fabs(state.stage_torque[s]));
      return least;
    };
    const double size = 1e-9 * (1 + std::fabs(interval.least) + std::fabs(interval.greatest)), step = 1e3 * size;
    CHECK(slack(interval.least, interval.least_part) == Approx(0).margin(size));
    CHECK(slack(interval.greatest, interval.greatest_part) == Approx(0).margin(size));
    CHECK(slack(0.5 * (interval.least + interval.greatest), part_none) >= -size);
    CHECK(slack(interval.least - step, part_none) < 0);
    CHECK(slack(interval.greatest + step, part_none) < 0);
  }
}

TEST_CASE("the batch: rigid body, coupling and drives in one pass, the same in any place of the batch") {
  Draw draw{8};
  for (std::size_t joints = 2; joints <= 7; ++joints) {
    CellSpec cell = random_cell(draw, joints, joints % 2 == 1);
    for (std::size_t i = 0; i + 1 < joints; ++i) cell.arm.joints[i].drive = random_drive(draw, i % 4);
    cell.arm.coupling.assign(joints * joints, 0);
    for (std::size_t i = 0; i < joints; ++i) cell.arm.coupling[i * joints + i] = 1;
    cell.arm.coupling[joints * joints - 2] = 0.7;  // the last joint turns with the drive before it
    SpringSpec spring;
    spring.link_a = 0, spring.link_b = 1, spring.point_a = {0.2, 0, 0}, spring.point_b = {0, 0.3, 0};
    spring.pull = 200, spring.rate = 1000, spring.length = 0.3;
    cell.arm.springs = {spring};
    const Model model = compile(cell);
    const std::vector<AxisDrive> drives = axis_drives(model);
    std::vector<double> q(5 * joints), v(q.size()), a(q.size()), tau(q.size()), motor(q.size()), again(q.size());
    for (std::size_t i = 0; i < q.size(); ++i) q[i] = draw.uniform(-3, 3), v[i] = draw.uniform(-2, 2), a[i] = draw.uniform(-5, 5);
    inverse_dynamics(model, model.load, q, v, a, tau);
    motor_torques(model, model.load, q, v, a, motor);
    motor_torques_of(model, tau, v, a, again);
    for (std::size_t r = 0; r < 5; ++r)
      for (std::size_t k = 0; k < joints; ++k) {
        const std::size_t at = r * joints + k, last = r * joints + joints - 1;
        // q_last = axis_last + 0.7 axis_before, the others are the axes themselves
        const bool before = k == joints - 2, end = k == joints - 1;
        const double torque = tau[at] + (before ? 0.7 * tau[last] : 0), speed = v[at] - (end ? 0.7 * v[at - 1] : 0),
                     change = a[at] - (end ? 0.7 * a[at - 1] : 0);
        CHECK(motor[at] == Approx(motor_torque(drives[k], torque, speed, change, speed)).epsilon(1e-9).margin(1e-9));
        CHECK(again[at] == Approx(motor[at]).epsilon(1e-9).margin(1e-9));
      }
  }
}

TEST_CASE("an axis may turn as fast as its slowest part allows") {
  DriveSpec drive = geared(50, 1, 1, 0);
  CHECK(greatest_axis_speed(axis_of(drive)).speed == Approx(14));
  CHECK(greatest_axis_speed(axis_of(drive)).part == part_motor);
  drive.stages[0].max_input_speed = 600;
  CHECK(greatest_axis_speed(axis_of(drive)).speed == Approx(12));
  CHECK(greatest_axis_speed(axis_of(drive)).part == 0);
}
