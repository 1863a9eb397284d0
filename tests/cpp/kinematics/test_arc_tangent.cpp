#include "armwright/kinematics/inverse/arc_tangent.hpp"

#include <algorithm>
#include <cmath>

#include "catch_shim.hpp"
#include "each_pack.hpp"
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

TEST_CASE("the angle of a turn is the C library's arc tangent, within three units in the last place") {
  testing::Random random{6};
  for (int k = 0; k < 200000; ++k) {
    // Anywhere; near the borders of the eighths, where the formula changes; near zero.
    double angle = random.uniform(-M_PI, M_PI);
    if (k % 3 == 1) angle = std::clamp(std::floor(random.uniform(-8, 9)) * (M_PI / 8) + random.sign() * std::pow(10, random.uniform(-17, -3)), -M_PI, M_PI);
    if (k % 3 == 2) angle = random.sign() * std::pow(10, random.uniform(-18, 0));
    const double c = std::cos(angle), s = std::sin(angle), expected = std::atan2(s, c);
    const double unit = std::nextafter(std::fabs(expected), 10.0) - std::fabs(expected);
    REQUIRE(std::fabs(angle_of_unit(Turn<double>{c, s}) - expected) <= 3 * unit);
    REQUIRE(std::fabs(angle_of_unit(Turn<Lanes>{Lanes(c), Lanes(s)})[1] - expected) <= 3 * unit);
    if (k % 100 == 0)
      testing::in_each_pack([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { REQUIRE(std::fabs(angle_of_unit(Turn<T>{T(c), T(s)})[3] - expected) <= 3 * unit); });
    const double length = 1 + random.uniform(-1e-8, 1e-8);  // told as near enough to one
    REQUIRE(std::fabs(angle_of_unit(Turn<double>{length * c, length * s}) - expected) <= 4 * unit);
  }
}

TEST_CASE("the angle of a turn on the axes") {
  REQUIRE(angle_of_unit(Turn<double>{1, 0}) == 0);
  REQUIRE(angle_of_unit(Turn<double>{0, 1}) == M_PI / 2);
  REQUIRE(angle_of_unit(Turn<double>{0, -1}) == -M_PI / 2);
  REQUIRE(angle_of_unit(Turn<double>{-1, 0}) == M_PI);
  REQUIRE(angle_of_unit(Turn<double>{-1, -0.0}) == M_PI);  // as arc_tangent()
  REQUIRE(arc_tangent(-0.0, -1.0) == M_PI);
}
