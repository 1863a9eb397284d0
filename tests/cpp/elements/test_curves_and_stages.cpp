#include <array>

#include "armwright/elements/friction.hpp"
#include "armwright/elements/inertia_ratio.hpp"
#include "armwright/elements/pulse_rate.hpp"
#include "armwright/elements/stage.hpp"
#include "armwright/elements/torque_speed_curve.hpp"
#include "armwright/elements/winding.hpp"
#include "catch_shim.hpp"

using namespace armwright;

TEST_CASE("a torque-speed curve is straight between its points and nothing beyond") {
  const std::array<double, 3> speed{0, 200, 400}, torque{3, 3, 1};
  CHECK(curve_value(speed, torque, 0) == 3);
  CHECK(curve_value(speed, torque, 100) == 3);
  CHECK(curve_value(speed, torque, 300) == Approx(2));
  CHECK(curve_value(speed, torque, 400) == 1);
  CHECK(curve_value(speed, torque, 400.001) == 0);
  CHECK(greatest_speed(speed, torque, 2) == Approx(300));
  CHECK(greatest_speed(speed, torque, 3) == Approx(200));
  CHECK(greatest_speed(speed, torque, 0.5) == 400);
  CHECK(greatest_speed(speed, torque, 3.1) == -1);
}

TEST_CASE("a screw jack: 10 kN on a screw of 5 mm lead, 40 % driving and 20 % back") {
  // T = F l / (2 pi eta): 19.894 N m up; down, the load drives with F l eta / (2 pi)
  const StageGains gains = stage_gains(2 * 3.141592653589793 / 0.005, 0.4, 0.2);
  CHECK(stage_input_torque(gains, 10000.0, 1.0) == Approx(19.8944).epsilon(1e-5));
  CHECK(stage_input_torque(gains, 10000.0, -1.0) == Approx(1.59155).epsilon(1e-5));
  CHECK(stage_input_torque(gains, 10000.0, 0.0) == Approx(19.8944).epsilon(1e-5));
  for (const double ratio : {-7.0, 7.0})
    for (const double way : {-1.0, 0.0, 1.0})
      for (const double torque : {-3.0, 5.0}) {
        const StageGains some = stage_gains(ratio, 0.8, 0.3);
        CHECK(stage_output_torque(some, stage_input_torque(some, torque, way), way) == Approx(torque));
      }
}

TEST_CASE("friction goes against motion, and nothing is asked for at rest") {
  CHECK(friction_torque(0.4, 0.3, 0.01, 10.0, 10.0) == Approx(0.5));
  CHECK(friction_torque(0.4, 0.3, 0.01, -10.0, -10.0) == Approx(-0.4));
  CHECK(friction_torque(0.4, 0.3, 0.01, 0.0, 0.0) == 0);
  CHECK(friction_torque(0.4, 0.3, 0.01, 0.0, 1.0) == Approx(0.4));
}

TEST_CASE("winding loss, current, pulses, inertia ratio") {
  // 1.2 ohm between leads, 0.5 N m/A rms, 3 N m: 6 A in each of three phases of 0.6 ohm
  CHECK(winding_loss(winding_loss_factor(0.6, 0.5), 3) == Approx(3 * 6 * 6 * 0.6));
  CHECK(motor_current(-3, 0.5) == Approx(6));
  CHECK(pulse_rate(-3000 * 2 * 3.141592653589793 / 60, 10000) == Approx(500e3));
  CHECK(encoder_count(3.141592653589793, 10000) == Approx(5000));
  CHECK(inertia_ratio(12, 100, 2e-4) == Approx(6));
  CHECK(matching_ratio(12, 2e-4) == Approx(244.949).epsilon(1e-6));
}
