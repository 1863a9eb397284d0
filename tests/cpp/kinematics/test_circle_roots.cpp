#include "armwright/kinematics/inverse/circle_roots.hpp"

#include <cmath>

#include "armwright/kinematics/inverse/solutions.hpp"
#include "catch_shim.hpp"
#include "kinematics/random_arms.hpp"

using namespace armwright;

namespace {

// sin((t - a)/2) sin((t - b)/2) sin((t - c)/2) sin((t - d)/2), multiplied out.
CirclePolynomial with_roots(double a, double b, double c, double d) {
  // The product of the first two is (cos((a - b)/2) - cos(t - (a + b)/2))/2, and so for the others.
  const double p = std::cos((a - b) / 2), u = (a + b) / 2, r = std::cos((c - d) / 2), v = (c + d) / 2;
  const double cu = std::cos(u), su = std::sin(u), cv = std::cos(v), sv = std::sin(v);
  return {p * r + su * sv, -p * cv - r * cu, -p * sv - r * su, cu * cv - su * sv, cu * sv + su * cv};
}

bool holds(const CircleRoots& roots, double angle, double tolerance) {
  for (int k = 0; k < roots.count; ++k) {
    if (std::fabs(wrapped(roots.angle[static_cast<std::size_t>(k)] - angle)) < tolerance) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("the roots that a polynomial on the circle was made from are found, and no others") {
  armwright::testing::Random random{6};
  for (int k = 0; k < 20000; ++k) {
    double a[4];
    for (double& x : a) x = random.uniform(-M_PI, M_PI);
    const CircleRoots roots = roots_on_circle(with_roots(a[0], a[1], a[2], a[3]));
    for (double x : a) REQUIRE(holds(roots, x, 1e-4));
    for (int i = 0; i < roots.count; ++i) {
      double nearest = 10;
      for (double x : a) nearest = std::fmin(nearest, std::fabs(wrapped(roots.angle[static_cast<std::size_t>(i)] - x)));
      REQUIRE(nearest < 1e-3);
    }
  }
}

TEST_CASE("double roots on the circle are found") {
  armwright::testing::Random random{7};
  for (int k = 0; k < 2000; ++k) {
    const double a = random.uniform(-M_PI, M_PI), b = random.uniform(-M_PI, M_PI), c = random.uniform(-M_PI, M_PI);
    const double gap = std::pow(10.0, random.uniform(-12, -3));
    const CircleRoots roots = roots_on_circle(with_roots(a, a + gap, b, c));
    REQUIRE(holds(roots, a, 1e-5));
    REQUIRE(holds(roots, a + gap, 1e-5));
    if (std::fabs(wrapped(a - b)) > 0.1) REQUIRE(holds(roots_on_circle(with_roots(a, a, b, b)), a, 1e-6));
  }
}

TEST_CASE("a polynomial on the circle without roots, and one that vanishes") {
  REQUIRE(roots_on_circle({3, 1, 1, 0.5, 0}).count == 0);
  REQUIRE(roots_on_circle({0, 0, 0, 0, 0}).all);
}
