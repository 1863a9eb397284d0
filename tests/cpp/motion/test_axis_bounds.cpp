#include "armwright/motion/axis_bounds.hpp"

#include <cmath>

#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// Within every torque limit, by the drive from the axis in.
bool keeps(const AxisDrive& drive, const AxisAlong& axis, double u, double slack) {
  const double torque = axis.torque + axis.inertia * u;
  if (std::fabs(torque) > drive.stated_peak + slack) return false;
  const DriveState<double> state = drive_state(drive, torque, axis.speed, axis.bend + axis.way * u, axis.direction);
  for (std::size_t s = 0; s < drive.stage_count; ++s)
    if (std::fabs(state.stage_torque[s]) > drive.stage[s].repeated_peak_torque + slack) return false;
  return std::fabs(state.motor_torque) <= curve_torque(drive.peak, state.motor_speed) + slack;
}

}  // namespace

TEST_CASE("what a drive allows along a path is where its torques are within limits, and nothing else") {
  Draw draw{11};
  int bounded = 0, empty = 0;
  for (int k = 0; k < 4000; ++k) {
    DriveSpec spec = random_drive(draw, static_cast<std::size_t>(draw.uniform(0, 3.99)));
    const AxisDrive drive = axis_of(spec, draw.uniform(0, 1) < 0.3 ? 200 : unlimited);
    const double ratio = std::fabs(drive.ratio), heavy = draw.uniform(0.1, 10) * std::pow(ratio, 2) * 1e-3;
    AxisAlong axis{};
    axis.inertia = draw.uniform(0, 1) < 0.8 ? heavy : draw.uniform(-0.5, 1) * heavy;  // way and inertia have one sign, but for coupling
    axis.way = draw.uniform(0.2, 1);
    if (draw.uniform(0, 1) < 0.5) axis.inertia *= -1, axis.way *= -1;
    axis.torque = draw.uniform(-1.5, 1.5) * ratio;
    axis.bend = draw.uniform(-20, 20) / ratio;
    axis.speed = (axis.way > 0 ? 1 : -1) * draw.uniform(0, 500) / ratio;
    axis.direction = k % 5 == 0 ? 0 : axis.way;
    if (k % 5 == 0) axis.speed = 0;
    Allowed u;
    allow_torque(drive, axis, u);
    if (u.empty()) {
      ++empty;
      for (int i = -50; i <= 50; ++i) CHECK_FALSE(keeps(drive, axis, i * 2.0, -1e-6));
      continue;
    }
    REQUIRE(std::isfinite(u.greatest - u.least));
    ++bounded;
    const double width = u.greatest - u.least, eps = 1e-6 * (1 + width);
    for (const double share : {0.0, 0.01, 0.3, 0.5, 0.9, 1.0}) CHECK(keeps(drive, axis, u.least + share * width, 1e-8 * ratio));
    CHECK_FALSE(keeps(drive, axis, u.greatest + eps, 0));
    CHECK_FALSE(keeps(drive, axis, u.least - eps, 0));
  }
  CHECK(bounded > 2000);
  CHECK(empty > 10);
}

TEST_CASE("bounds of s̈ in between: both slopes, and none") {
  Allowed u;
  allow_between(1, 2, -3, 5, u);
  CHECK(u.least == -2);
  CHECK(u.greatest == 2);
  allow_between(1, -2, -3, 5, u);
  CHECK(u.least == -2);
  CHECK(u.greatest == 2);
  allow_between(4, 0, -3, 5, u);
  CHECK_FALSE(u.empty());
  allow_between(6, 0, -3, 5, u);
  CHECK(u.empty());
}
