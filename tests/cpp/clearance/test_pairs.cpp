#include "catch_shim.hpp"

#include <numbers>

#include "armwright/clearance/scene.hpp"
#include "solids.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double close = 1e-9;

bool equal(double a, double b, double tolerance = close) { return std::fabs(a - b) <= tolerance; }

}  // namespace

TEST_CASE("the linked Bullet counts in doubles") { CHECK(self_test().empty()); }

// Figures worked out by hand and agreed with two general-purpose distance libraries (coal 3.0.3; fcl where it is right).
TEST_CASE("distances known in closed form") {
  CHECK(equal(distance(sphere(0.3), sphere(0.2, at({1, 2, 2}))), 2.5));
  CHECK(equal(distance(box({1, 1, 1}), box({1, 1, 1}, at({2, 0, 0}))), 1.0));
  CHECK(equal(distance(box({1, 1, 1}), box({1, 1, 1}, at({2, 3, 3}))), 3.0));
  CHECK(equal(distance(box({1, 1, 1}), box({1, 1, 1}, at({2, 0, 0}, turn_about(z_axis, pi / 4)))), 1.5 - std::sqrt(0.5)));
  // Edge to edge, crossed.
  const ShapeSpec first = box({1, 1, 1}, at({0, 0, 0}, turn_about(z_axis, pi / 4)));
  const ShapeSpec second = box({1, 1, 1}, at({2.5, 0, 0}, turn_about(x_axis, pi / 2) * turn_about(z_axis, pi / 4)));
  CHECK(equal(distance(first, second), 2.5 - 2 * std::sqrt(0.5)));
  CHECK(equal(distance(sphere(0.25, at({2, 3, 3})), box({2, 2, 2})), 2.75));
  CHECK(equal(distance(capsule(0.1, 2), capsule(0.2, 2, at({1, 0, 0}, turn_about(x_axis, pi / 2)))), 0.7));
  CHECK(equal(distance(capsule(0.1, 2), capsule(0.2, 2, at({0, 0, 4}))), 1.7));
  CHECK(equal(distance(capsule(0.1, 2), capsule(0.2, 2, at({3, 0, 6}))), 4.7));
  CHECK(equal(distance(capsule(0.1, 1, at({0, 0, 2})), box({1, 1, 1})), 0.9));
  CHECK(equal(distance(cylinder(0.5, 1), sphere(0.1, at({2, 0, 2}))), std::hypot(1.5, 1.5) - 0.1));
  CHECK(equal(distance(box({1, 1, 1}), box({1, 1, 1}, at({0.9, 0, 0}))), -0.1));
  CHECK(equal(distance(box({1, 1, 1}), box({1, 1, 1}, at({1, 0, 0}))), 0.0));
}

TEST_CASE("two unit boxes, one turned about z, keep the gap d - 1/2 - (|cos t| + |sin t|)/2") {
  for (int degrees = 0; degrees < 360; ++degrees) {
    const double t = degrees * pi / 180;
    const Pose X = at({2, 0, 0}, turn_about(z_axis, t));
    const double gap = 1.5 - 0.5 * (std::fabs(std::cos(t)) + std::fabs(std::sin(t)));
    CAPTURE(degrees);
    CHECK(equal(distance(box({1, 1, 1}), box({1, 1, 1}, X)), gap));
    CHECK(equal(distance(hull(box_corners({1, 1, 1})), hull(box_corners({1, 1, 1}), X)), gap));
    CHECK(equal(distance(box({1, 1, 1}), hull(box_corners({1, 1, 1}), X)), gap));
    const Pose nearer = at({1, 0, 0}, turn_about(z_axis, t));
    CHECK(equal(distance(box({1, 1, 1}), box({1, 1, 1}, nearer)), gap - 1));
    CHECK(equal(distance(hull(box_corners({1, 1, 1})), hull(box_corners({1, 1, 1}), nearer)), gap - 1));
  }
}

TEST_CASE("cylinders: side by side, end to end, crossed, tilted over a plane") {
  CHECK(equal(distance(cylinder(0.5, 2), cylinder(0.25, 1, at({2, 0, 0}))), 1.25));
  CHECK(equal(distance(cylinder(0.5, 2), cylinder(0.25, 1, at({0, 0, 3}))), 1.5));
  CHECK(equal(distance(cylinder(0.5, 2), cylinder(0.25, 4, at({2, 0, 0}, turn_about(x_axis, pi / 2)))), 1.25));
  CHECK(equal(distance(cylinder(0.5, 2), cylinder(0.25, 2, at({0.6, 0, 0}))), -0.15));
  CHECK(equal(distance(cylinder(0.5, 2), cylinder(0.5, 2, at({0, 0, 1.9}))), -0.1));
  CHECK(equal(distance(cylinder(0.5, 2), box({1, 1, 1}, at({0, 0, 2}))), 0.5));
  CHECK(equal(distance(cylinder(0.5, 2), box({1, 1, 1}, at({1.5, 0, 0}))), 0.5));
  CHECK(equal(distance(cylinder(0.5, 2), capsule(0.1, 1, at({0, 0, 2}))), 0.4));
  CHECK(equal(distance(cylinder(0.5, 2), capsule(0.1, 1, at({0.5, 0, 0}))), -0.1));
  CHECK(equal(distance(cylinder(0.5, 2), capsule(0.1, 10, at({0, 0, 0}, turn_about(x_axis, pi / 2)))), -0.6));
  for (int degrees = 0; degrees <= 90; degrees += 5) {
    const double t = degrees * pi / 180;
    CHECK(equal(distance(cylinder(0.3, 0.8, at({0, 0, 1}, turn_about(x_axis, t))), half_space()), 1 - 0.4 * std::cos(t) - 0.3 * std::sin(t)));
    CHECK(equal(distance(capsule(0.3, 0.8, at({0, 0, 1}, turn_about(x_axis, t))), half_space()), 0.7 - 0.4 * std::cos(t)));
    CHECK(equal(distance(box({1, 0.6, 0.8}, at({0, 0, 1}, turn_about(x_axis, t))), half_space()), 1 - 0.4 * std::cos(t) - 0.3 * std::sin(t)));
  }
}

TEST_CASE("small beside large: a 1 mm solid over a 10 m slab, a large flat cylinder") {
  for (const double gap : {1e-6, 1e-4, 0.01, 3.0}) {
    const Pose over = at({1.7, -2.3, 0.5 + gap + 0.0005});
    CHECK(equal(distance(box({0.001, 0.001, 0.001}, over), box({10, 10, 1})), gap));
    CHECK(equal(distance(sphere(0.0005, over), box({10, 10, 1})), gap));
    CHECK(equal(distance(hull(box_corners({0.001, 0.001, 0.001}), over), box({10, 10, 1})), gap));
    CHECK(equal(distance(cylinder(0.0005, 0.001, over), box({10, 10, 1})), gap));
    CHECK(equal(distance(cylinder(0.0005, 0.001, over), cylinder(5, 1)), gap));
    CHECK(equal(distance(box({0.001, 0.001, 0.001}, over), cylinder(5, 1)), gap));
    CHECK(equal(distance(hull(box_corners({0.001, 0.001, 0.001}), over), cylinder(5, 1)), gap));
  }
  CHECK(equal(distance(cylinder(5, 0.001), cylinder(5, 0.001, at({0, 0, 0.011}))), 0.01));
  CHECK(equal(distance(cylinder(5, 0.001), cylinder(5, 0.001, at({0, 0, 2}, turn_about(x_axis, 0.1)))),
              2 - 0.0005 - 5 * std::sin(0.1) - 0.0005 * std::cos(0.1)));
}

TEST_CASE("a solid within another is moved out the short way") {
  CHECK(equal(distance(sphere(0.1, at({0.2, 0, 0})), box({1, 1, 1})), -0.4));
  CHECK(equal(distance(sphere(0.1), sphere(0.5, at({0.1, 0, 0}))), -0.5));
  CHECK(equal(distance(sphere(0.1), sphere(0.5)), -0.6));
  CHECK(equal(distance(box({0.2, 0.2, 0.2}, at({0.2, 0, 0})), box({1, 1, 1})), -0.4));
  CHECK(equal(distance(hull(box_corners({0.2, 0.2, 0.2}), at({0.2, 0, 0})), box({1, 1, 1})), -0.4));
  CHECK(equal(distance(cylinder(0.1, 0.2, at({0.2, 0, 0})), box({1, 1, 1})), -0.4));
  CHECK(equal(distance(capsule(0.1, 0.4, at({0.2, 0, 0})), box({1, 1, 1})), -0.4));
  CHECK(equal(distance(capsule(0.1, 4), box({1, 1, 1})), -0.6));
  CHECK(equal(distance(sphere(0.1, at({0, 0, -0.3})), half_space()), -0.4));
}

TEST_CASE("parallel capsules and capsules on one line") {
  CHECK(equal(distance(capsule(0.1, 2), capsule(0.1, 2, at({1, 0, 0.5}))), 0.8));
  CHECK(equal(distance(capsule(0.1, 2), capsule(0.1, 2, at({0, 0, 0.5}))), -0.2));
  CHECK(equal(distance(capsule(0.1, 2), capsule(0.1, 2, at({1, 0, 0}, turn_about(x_axis, 1e-9)))), 0.8));
  CHECK(equal(distance(capsule(0.1, 2), capsule(0.1, 2, at({0, 0, 0}, turn_about(x_axis, pi / 2)))), -0.2));
}

TEST_CASE("half-spaces part from one another only when they look at each other") {
  const Pose down = at({0, 0, 2}, turn_about(x_axis, pi));
  CHECK(equal(distance(half_space(), half_space(down)), 2));
  CHECK(distance(half_space(), half_space()) == -std::numeric_limits<double>::infinity());
}
