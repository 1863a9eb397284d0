#include <atomic>

#include "catch_shim.hpp"
#include "motion/stop_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// A double pendulum that turns without end.
CellSpec two_links() {
  CellSpec cell;
  cell.arm.joints = {joint("shoulder", identity_pose, {0, -1, 0}, -unlimited, unlimited), joint("elbow", at({0.5, 0, 0}), {0, -1, 0}, -unlimited, unlimited)};
  cell.arm.links.resize(2);
  cell.arm.links[0].inertia = {3, {0.5, 0, 0}}, cell.arm.links[1].inertia = {2, {0.4, 0, 0}};
  for (JointSpec& j : cell.arm.joints) j.drive = bare_drive(1e-3);
  return cell;
}

}  // namespace

TEST_CASE("brakes beyond all measure stop the arm where they bite, at any torque") {
  CellSpec cell = two_links();
  const auto with = [&cell](double torque) {
    BrakeSpec brake;
    brake.torque = torque, brake.delay = 0.05;
    for (JointSpec& j : cell.arm.joints) j.drive->brake = brake;
    return stopped(cell, {0.3, -0.5}, {2, -3});
  };
  StopOptions free;
  free.time_limit = 0.05;
  for (JointSpec& j : cell.arm.joints) j.drive->brake.reset();
  const StopAnswer bites = stopped(cell, {0.3, -0.5}, {2, -3}, free);
  for (const double torque : {1e6, 1e9, 1e12, 1e15}) {
    const StopAnswer answer = with(torque);
    CHECK(answer.end == StopEnd::rest);
    CHECK(answer.time == Approx(0.05).epsilon(1e-3));
    for (std::size_t k = 0; k < 2; ++k) CHECK(std::fabs(answer.q[k] - bites.q[k]) < 10 / torque + 1e-7);
  }
}

TEST_CASE("speeds beyond all measure: given up and told so, not called an axis without inertia") {
  const Model model = compile(two_links());
  StopOptions options;
  const double q[2] = {0.3, -0.5}, fast[2] = {1e7, -2e7}, beyond[2] = {1e200, 1e200};
  const StopAnswer spun = stop(model, {}, q, fast, options);
  CHECK(spun.end == StopEnd::gave_up);
  CHECK(spun.joint == -1);
  CHECK(spun.steps > most_stop_steps);
  CHECK(spun.steps < most_stop_steps + 10);
  CHECK(spun.time < options.time_limit);
  const StopAnswer none = stop(model, {}, q, beyond, options);
  CHECK(none.end == StopEnd::gave_up);
  CHECK(none.joint == -1);
}

TEST_CASE("one long stop ends soon after the stop sign is raised") {
  const std::atomic<bool> raised{true};
  const StopSign sign(raised);
  const Model model = compile(two_links());
  const double q[2] = {0.3, -0.5}, fast[2] = {1e7, -2e7};
  CHECK(stop(model, {}, q, fast, {}, &sign).steps < 100);
}
