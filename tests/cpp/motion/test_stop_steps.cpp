#include "catch_shim.hpp"
#include "motion/drive_cases.hpp"
#include "motion/stop_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

TEST_CASE("every step of a braked flywheel: even before the brake bites, T/J after, both at the instant that it does") {
  CellSpec cell = pendulum(0, 0);
  cell.arm.joints[0].axis = {0, 0, 1};
  cell.arm.joints[0].lower = -1e3, cell.arm.joints[0].upper = 1e3;
  cell.arm.links[0].inertia = {1, {0, 0, 0}, 1, 1, 0.5, 0, 0, 0};
  const double w0 = 20, torque = 4, delay = 0.08, J = 0.5;
  DriveSpec drive = bare_drive();
  BrakeSpec brake;
  brake.torque = torque, brake.delay = delay, brake.side = BrakeSide::joint;
  drive.brake = brake;
  cell.arm.joints[0].drive = drive;
  CHECK(stopped(cell, {0}, {w0}).every.time.empty());
  StopOptions options;
  options.every_step = true;
  const StopAnswer answer = stopped(cell, {0}, {w0}, options);
  const StopSteps& steps = answer.every;
  REQUIRE(steps.time.size() > 4);
  CHECK(steps.time.front() == 0);
  CHECK(steps.time.back() == Approx(delay + J * w0 / torque).epsilon(1e-9));
  CHECK((steps.speed.back() == 0 && steps.acceleration.back() == 0));
  int both = 0;
  for (std::size_t r = 0; r + 1 < steps.time.size(); ++r) {
    const double t = steps.time[r], braking = std::fmax(0, t - delay);
    CHECK(steps.speed[r] == Approx(w0 - torque / J * braking).margin(1e-8));
    CHECK(steps.q[r] == Approx(w0 * t - 0.5 * torque / J * braking * braking).epsilon(1e-9).margin(1e-12));
    if (t < delay - 1e-9) CHECK(std::fabs(steps.acceleration[r]) < 1e-9);
    if (t > delay + 1e-9 && steps.speed[r] != 0) CHECK(steps.acceleration[r] == Approx(-torque / J).epsilon(1e-9));
    if (steps.time[r + 1] == t && steps.acceleration[r + 1] < steps.acceleration[r] - 1) ++both;
  }
  CHECK(both == 1);
}

// Speeds and positions follow from the accelerations between two steps: the corrected trapezoid rule (P. Davis, P. Rabinowitz,
// Methods of Numerical Integration, 2nd ed. 1984, section 2.9) is exact for cubics.
TEST_CASE("accelerations of an arm's stop make its speeds, and those its ways") {
  Draw draw{51};
  for (const StopCategory category : {StopCategory::power_off, StopCategory::controlled}) {
    CellSpec cell = random_cell(draw, 5);
    for (JointSpec& j : cell.arm.joints) {
      j.lower = -1e3, j.upper = 1e3;
      j.drive = random_drive(draw, 2);
      BrakeSpec brake;
      brake.torque = 2, brake.delay = draw.uniform(0.02, 0.1);
      j.drive->brake = brake;
    }
    cell.arm.coupling.assign(25, 0.0);
    for (std::size_t i = 0; i < 5; ++i) cell.arm.coupling[6 * i] = 1;
    cell.arm.coupling[4 * 5 + 3] = 0.3;
    StopOptions options = controlled(6);
    options.category = category, options.every_step = true, options.reaction = 0.03;
    std::vector<double> q(5), v(5);
    for (std::size_t i = 0; i < 5; ++i) q[i] = draw.uniform(-1, 1), v[i] = draw.uniform(-2, 2);
    const StopAnswer answer = stopped(cell, q, v, options);
    CHECK(answer.end == StopEnd::rest);
    const StopSteps& steps = answer.every;
    REQUIRE(steps.time.size() > 20);
    double fastest = 0, sum = 0;
    for (std::size_t r = 0; r + 1 < steps.time.size(); ++r) {
      const double h = steps.time[r + 1] - steps.time[r];
      REQUIRE(h >= 0);
      for (std::size_t i = 0; i < 5; ++i) {
        const std::size_t a = 5 * r + i, b = a + 5;
        const double made = h * (steps.speed[a] + steps.speed[b]) / 2 + h * h * (steps.acceleration[a] - steps.acceleration[b]) / 12;
        CHECK(steps.q[b] - steps.q[a] == Approx(made).margin(2e-6).epsilon(0));
        const double sped = h * (steps.acceleration[a] + steps.acceleration[b]) / 2;
        CHECK(steps.speed[b] - steps.speed[a] == Approx(sped).margin(0.02 * h * (std::fabs(steps.acceleration[a]) + std::fabs(steps.acceleration[b])) + 2e-3 * h + 1e-6).epsilon(0));
        fastest = std::fmax(fastest, std::fabs(steps.speed[a])), sum += std::fabs(steps.speed[b] - steps.speed[a]);
      }
    }
    CHECK(fastest > 1);
    CHECK(sum > 5);
    for (std::size_t i = 0; i < 5; ++i) CHECK(steps.q[steps.q.size() - 5 + i] == Approx(answer.q[i]).margin(1e-9));
  }
}
