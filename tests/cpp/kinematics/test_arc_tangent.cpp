#include "armwright/kinematics/inverse/arc_tangent.hpp"

#include <cmath>

#include "catch_shim.hpp"
#include "kinematics/random_arms.hpp"

using namespace armwright;

TEST_CASE("the arc tangent is the C library's, within two units in the last place") {
  testing::Random random{5};
  double worst = 0;
  for (int k = 0; k < 200000; ++k) {
    const double angle = random.uniform(-M_PI, M_PI), length = std::exp(random.uniform(-20, 20));
    const double x = length * std::cos(angle), y = length * std::sin(angle);
    const double expected = std::atan2(y, x);
    const double unit = std::nextafter(std::fabs(expected), 10.0) - std::fabs(expected);
    worst = std::fmax(worst, std::fabs(arc_tangent(y, x) - expected) / unit);
    const Lanes lanes = arc_tangent(Lanes(y), Lanes(x));
    REQUIRE(std::fabs(lanes[0] - expected) <= 2 * unit);
  }
  REQUIRE(worst <= 2);
}

TEST_CASE("the arc tangent on the axes") {
  REQUIRE(arc_tangent(0.0, 0.0) == 0);
  REQUIRE(arc_tangent(0.0, 2.0) == 0);
  REQUIRE(arc_tangent(3.0, 0.0) == M_PI / 2);
  REQUIRE(arc_tangent(-3.0, 0.0) == -M_PI / 2);
  REQUIRE(arc_tangent(0.0, -1.0) == M_PI);
  REQUIRE(arc_tangent(1.0, 1.0) == M_PI / 4);
}
