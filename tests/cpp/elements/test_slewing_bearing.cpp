#include "armwright/elements/slewing_bearing.hpp"

#include <cmath>
#include <vector>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

constexpr double degree = 3.14159265358979323846 / 180;

}  // namespace

TEST_CASE("20 balls, 18 degrees apart, roll half as far as the ring turns: paths meet from 36 degrees on") {
  CHECK(critical_swing(BearingKind::four_point, 20) == Approx(36 * degree));
  // Of 40 crossed rollers every other one runs on the same path.
  CHECK(critical_swing(BearingKind::crossed_roller, 40) == Approx(36 * degree));
}

// Drawn by hand: 900 N m up to 10 kN, then straight to 400 N m at 20 kN, then nothing.
TEST_CASE("a line of static limits is met by what grows in step") {
  const std::vector<double> force{10e3, 20e3}, moment{900, 400};
  const auto safety = [&](double axial, double tilt) { return limit_line_safety(force, moment, axial, tilt); };
  CHECK(safety(0, 300) == Approx(3));
  CHECK(safety(-5e3, 450) == Approx(2));
  CHECK(safety(10e3, 900) == Approx(1));
  CHECK(safety(15e3, 650) == Approx(1));
  CHECK(safety(5e3, 0) == Approx(4));
  CHECK(safety(40e3, 100) == Approx(0.5));
  CHECK(safety(0, 1800) == Approx(0.5));
  CHECK(std::isinf(safety(0, 0)));
}

TEST_CASE("a line that begins below no force tells both ways apart") {
  const std::vector<double> force{-4e3, 0, 10e3}, moment{0, 500, 0};
  CHECK(limit_line_safety(force, moment, -2e3, 0) == Approx(2));
  CHECK(limit_line_safety(force, moment, 2e3, 0) == Approx(5));
  CHECK(limit_line_safety(force, moment, 0, 250) == Approx(2));
  CHECK(limit_line_safety(force, moment, -2e3, 250) == Approx(1));
}
