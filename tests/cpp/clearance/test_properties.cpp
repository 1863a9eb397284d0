#include "catch_shim.hpp"

#include "solids.hpp"

// Laws that hold for every pair of solids, tried on random ones: no closed form is needed to know them.

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr int tries = 300;

template <class Check>
void for_random_pairs(std::uint64_t seed, double far, const Check& check) {
  Dice dice(seed);
  for (const ShapeKind a : all_kinds) {
    for (const ShapeKind b : all_kinds) {
      if (a == ShapeKind::half_space && b == ShapeKind::half_space) continue;
      for (int i = 0; i < tries; ++i) {
        const ShapeSpec first = dice.solid(a, far), second = dice.solid(b, far);
        CAPTURE(static_cast<int>(a), static_cast<int>(b), i);
        check(first, second, dice);
      }
    }
  }
}

ShapeSpec moved(ShapeSpec s, const Pose& X) {
  s.pose = X * s.pose;
  return s;
}

// Depths found by growing a polytope around a curved solid are good to this.
double tolerance(const ShapeSpec&, const ShapeSpec&) { return 1e-7; }

}  // namespace

TEST_CASE("swapping the two solids swaps the points and keeps the distance") {
  for_random_pairs(1, 1.2, [](const ShapeSpec& a, const ShapeSpec& b, Dice&) {
    const Separation s = between(a, b), t = between(b, a);
    REQUIRE(std::fabs(s.distance - t.distance) <= tolerance(a, b));
  });
}

TEST_CASE("moving both solids together changes nothing") {
  for_random_pairs(2, 1.2, [](const ShapeSpec& a, const ShapeSpec& b, Dice& dice) {
    const Pose X = dice.pose(3);
    REQUIRE(std::fabs(distance(a, b) - distance(moved(a, X), moved(b, X))) <= tolerance(a, b));
  });
}

TEST_CASE("the points are as far apart as the distance says") {
  for_random_pairs(3, 1.5, [](const ShapeSpec& a, const ShapeSpec& b, Dice&) {
    const Separation s = between(a, b);
    REQUIRE(std::fabs(norm(s.a - s.b) - std::fabs(s.distance)) <= 1e-9);
  });
}

TEST_CASE("each nearest point lies on its solid") {
  for_random_pairs(4, 2.0, [](const ShapeSpec& a, const ShapeSpec& b, Dice&) {
    const Separation s = between(a, b);
    if (s.distance <= 0) return;
    const double small = 1e-9;
    REQUIRE(std::fabs(distance(sphere(small, at(s.a)), a) + small) < 1e-8);
    REQUIRE(std::fabs(distance(sphere(small, at(s.b)), b) + small) < 1e-8);
  });
}

TEST_CASE("moved by the way out, overlapping convex solids just touch") {
  for_random_pairs(5, 0.8, [](const ShapeSpec& a, const ShapeSpec& b, Dice&) {
    if (a.kind == ShapeKind::mesh || b.kind == ShapeKind::mesh) return;
    const Separation s = between(a, b);
    if (s.distance >= 0) return;
    const Vec3 out = s.b - s.a;
    REQUIRE(std::fabs(distance(moved(a, at(out)), b)) < 1e-7);
    // No shorter move does: not a bit less of this one, nor half of it any other way.
    if (s.distance < -1e-4) REQUIRE(distance(moved(a, at((1 - 1e-4) * out)), b) < 0);
    Dice other(99);
    for (int i = 0; i < 5; ++i) REQUIRE(distance(moved(a, at((1 - 1e-6) * -s.distance * other.direction())), b) < 1e-9);
  });
}

TEST_CASE("an overlap with a mesh is parted by the way out if the mesh is met by one face") {
  // A box let into the top of the L by 0.2 m, away from its rims.
  const Separation s = between(box({0.1, 0.1, 0.6}, at({0.5, 0.5, 1.1})), ell());
  CHECK(std::fabs(s.distance + 0.2) < 1e-12);
  CHECK(std::fabs(s.b.z - s.a.z - 0.2) < 1e-12);
}

TEST_CASE("distances fall by no more than a solid is moved") {
  for_random_pairs(6, 1.5, [](const ShapeSpec& a, const ShapeSpec& b, Dice& dice) {
    const double way = dice.within(0, 0.2);
    const double before = distance(a, b), after = distance(moved(a, at(way * dice.direction())), b);
    if (before < 0 || after < 0) return;
    REQUIRE(std::fabs(before - after) <= way + 1e-9);
  });
}
