#include "catch_shim.hpp"

#include "solids.hpp"

// Every distance of two convex solids is proved here by means that know nothing of how it was found: its two points lie
// on the solids (so the truth is no more), and a plane square to them parts the solids by as much (so it is no less).
// For an overlap: moving by the depth along that direction parts them, and no direction of a dense set does it sooner.

using namespace armwright;
using namespace armwright::testing;

namespace {

// The convex kinds, in their own frame: how far a point is outside, at most 0 within. Not a distance, but 0 on the surface.
double outside(const ShapeSpec& s, const Vec3& p) {
  const double ax = std::fabs(p.x), ay = std::fabs(p.y), az = std::fabs(p.z);
  switch (s.kind) {
    case ShapeKind::box: return std::max({ax - s.size.x / 2, ay - s.size.y / 2, az - s.size.z / 2});
    case ShapeKind::sphere: return norm(p) - s.radius;
    case ShapeKind::cylinder: return std::max(std::hypot(p.x, p.y) - s.radius, az - s.length / 2);
    case ShapeKind::capsule: return std::hypot(p.x, p.y, std::max(az - s.length / 2, 0.0)) - s.radius;
    case ShapeKind::half_space: return p.z;
    default: break;
  }
  // A hull: the planes through three points that have all others on one side.
  double worst = -1e9;
  const auto& v = s.points;
  for (std::size_t i = 0; i < v.size(); ++i) {
    for (std::size_t j = i + 1; j < v.size(); ++j) {
      for (std::size_t k = j + 1; k < v.size(); ++k) {
        Vec3 n = cross(v[j] - v[i], v[k] - v[i]);
        if (norm(n) < 1e-12) continue;
        n = (1 / norm(n)) * n;
        double above = 0, below = 0;
        for (const Vec3& q : v) above = std::max(above, dot(q - v[i], n)), below = std::max(below, -dot(q - v[i], n));
        if (above < 1e-12) worst = std::max(worst, dot(p - v[i], n));
        if (below < 1e-12) worst = std::max(worst, -dot(p - v[i], n));
      }
    }
  }
  return worst;
}

// How far the solid reaches along a unit direction of the world, from the world's origin.
double reach(const ShapeSpec& s, const Vec3& direction) {
  const Vec3 n = transpose_times(s.pose.rotation, direction);
  const double from = dot(s.pose.position, direction);
  switch (s.kind) {
    case ShapeKind::box: return from + (s.size.x * std::fabs(n.x) + s.size.y * std::fabs(n.y) + s.size.z * std::fabs(n.z)) / 2;
    case ShapeKind::sphere: return from + s.radius;
    case ShapeKind::capsule: return from + s.radius + s.length / 2 * std::fabs(n.z);
    case ShapeKind::cylinder: return from + s.radius * std::hypot(n.x, n.y) + s.length / 2 * std::fabs(n.z);
    default: break;
  }
  double most = -1e9;
  for (const Vec3& p : s.points) most = std::max(most, dot(p, n));
  return from + most;
}

constexpr ShapeKind convex_kinds[] = {ShapeKind::box, ShapeKind::cylinder, ShapeKind::capsule, ShapeKind::sphere, ShapeKind::convex_hull};

std::vector<Vec3> dense_directions(int count) {
  std::vector<Vec3> directions;
  for (int i = 0; i < count; ++i) {  // a spiral from pole to pole
    const double z = 1 - (2 * i + 1.0) / count, r = std::sqrt(1 - z * z), turn = 2.399963229728653 * i;
    directions.push_back({r * std::cos(turn), r * std::sin(turn), z});
  }
  return directions;
}

}  // namespace

TEST_CASE("distances of convex solids are proved by their points and a plane between") {
  Dice dice(11);
  int apart = 0;
  for (const ShapeKind ka : convex_kinds) {
    for (const ShapeKind kb : convex_kinds) {
      for (int i = 0; i < 300; ++i) {
        ShapeSpec a = dice.solid(ka, 1.6), b = dice.solid(kb, 1.6);
        if (i % 4 == 0) b.pose.rotation = a.pose.rotation;  // parallel faces and edges
        const Separation s = between(a, b);
        if (s.distance <= 1e-6) continue;
        ++apart;
        CAPTURE(static_cast<int>(ka), static_cast<int>(kb), i);
        const Vec3 n = (1 / norm(s.b - s.a)) * (s.b - s.a);
        REQUIRE(outside(a, inverse(a.pose) * s.a) < 1e-9);
        REQUIRE(outside(b, inverse(b.pose) * s.b) < 1e-9);
        REQUIRE(std::fabs(norm(s.b - s.a) - s.distance) < 1e-9);
        REQUIRE(-reach(b, -n) - reach(a, n) > s.distance - 1e-8);
      }
    }
  }
  CHECK(apart > 3000);
}

TEST_CASE("depths of convex solids: the way out parts them, and no other is shorter") {
  Dice dice(12);
  const auto directions = dense_directions(4000);
  int overlaps = 0;
  for (const ShapeKind ka : convex_kinds) {
    for (const ShapeKind kb : convex_kinds) {
      for (int i = 0; i < 60; ++i) {
        ShapeSpec a = dice.solid(ka, 0.5), b = dice.solid(kb, 0.5);
        if (i % 4 == 0) b.pose.rotation = a.pose.rotation;
        const Separation s = between(a, b);
        if (s.distance >= -1e-6) continue;
        ++overlaps;
        CAPTURE(static_cast<int>(ka), static_cast<int>(kb), i);
        const Vec3 n = (1 / norm(s.b - s.a)) * (s.b - s.a);
        REQUIRE(std::fabs(reach(a, -n) + reach(b, n) + s.distance) < 1e-8);
        for (const Vec3& d : directions) REQUIRE(reach(a, -d) + reach(b, d) > -s.distance - 1e-8);
      }
    }
  }
  CHECK(overlaps > 500);
}

TEST_CASE("a solid and the L: the nearer of the two boxes that the L is made of") {
  Dice dice(13);
  int inside = 0, apart = 0;
  for (const ShapeKind kind : all_kinds) {
    for (int i = 0; i < 400; ++i) {
      const ShapeSpec l = ell(dice.pose(1)), other = dice.solid(kind, 2.5);
      const ShapeSpec arms[2] = {box({2, 1, 1}, l.pose * at({1, 0.5, 0.5})), box({1, 2, 1}, l.pose * at({0.5, 1, 0.5}))};
      double expected = 1e9;
      if (kind == ShapeKind::mesh) {
        for (const auto& arm : arms) {
          expected = std::min(expected, distance(arm, box({2, 1, 1}, other.pose * at({1, 0.5, 0.5}))));
          expected = std::min(expected, distance(arm, box({1, 2, 1}, other.pose * at({0.5, 1, 0.5}))));
        }
      } else {
        expected = std::min(distance(other, arms[0]), distance(other, arms[1]));
      }
      const double found = distance(other, l);
      CAPTURE(static_cast<int>(kind), i);
      if (expected > 1e-9) REQUIRE(std::fabs(found - expected) < 1e-9);
      // Two boxes parted one by one may still be one solid to part from: the depth is no less.
      if (expected < -1e-9) REQUIRE(found < expected + 1e-7);
      (expected > 0 ? apart : inside) += 1;
    }
  }
  CHECK(inside > 300);
  CHECK(apart > 300);
}
