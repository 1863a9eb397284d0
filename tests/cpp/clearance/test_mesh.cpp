#include "catch_shim.hpp"

#include <numbers>

#include "armwright/clearance/mesh.hpp"
#include "solids.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double pi = std::numbers::pi;

// A ring about z: radius R of its centre line, r of its tube; `n` steps each way, corners on the true surface.
ShapeSpec ring(double R, double r, int n) {
  std::vector<Vec3> points;
  std::vector<std::array<std::int32_t, 3>> triangles;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const double u = 2 * pi * i / n, v = 2 * pi * j / n, d = R + r * std::cos(v);
      points.push_back({d * std::cos(u), d * std::sin(u), r * std::sin(v)});
      const int k = (i + 1) % n, l = (j + 1) % n;
      triangles.push_back({i * n + j, k * n + j, k * n + l});
      triangles.push_back({i * n + j, k * n + l, i * n + l});
    }
  }
  return mesh(points, triangles);
}

double to_ring(const Vec3& p, double R, double r) { return std::hypot(std::hypot(p.x, p.y) - R, p.z) - r; }

Mesh made(const ShapeSpec& s) {
  bool convex = false;
  return build_mesh("mesh", s.points, s.triangles, convex);
}

}  // namespace

TEST_CASE("a ring: distances of spheres by the closed form, to what the flat triangles cut off") {
  const double R = 1, r = 0.3;
  const int n = 160;
  // The chord of a step lies below the arc by at most this, both ways together.
  const double cut = (R + r) * (1 - std::cos(pi / n)) + r * (1 - std::cos(pi / n));
  const ShapeSpec tube = ring(R, r, n);
  const Shape shape = prepare_shape("ring", tube);
  Dice dice(21);
  for (int i = 0; i < 500; ++i) {
    const double away = dice.within(0, 2);
    const Vec3 p = away * dice.direction();
    const double expected = to_ring(p, R, r), small = 0.01;
    const Shape ball = prepare_shape("ball", sphere(small));
    const double found = separation(ball, at(p), shape, identity_pose, 1e9).distance + small;
    CAPTURE(i, expected);
    if (expected > cut) REQUIRE(std::fabs(found - expected) < cut);
    if (expected < -cut) REQUIRE(found < 0);
    if (std::fabs(expected) > cut) REQUIRE(contains(*shape.mesh, p) == (expected < 0));
  }
}

TEST_CASE("points straight over corners and edges are told in from out") {
  const Mesh l = made(ell());
  for (const double x : {0.0, 0.5, 1.0, 1.5, 2.0})
    for (const double y : {0.0, 0.5, 1.0, 1.5, 2.0})
      for (const double z : {-0.5, 0.25, 0.5, 0.75, 1.5}) {
        const bool on_surface = x == 0 || y == 0 || x == 2 || y == 2 || (x == 1 && y >= 1) || (y == 1 && x >= 1);
        if (on_surface) continue;
        CHECK(contains(l, {x, y, z}) == (z > 0 && z < 1 && (x < 1 || y < 1)));
      }
}

TEST_CASE("a solid wholly inside a mesh, or a mesh wholly inside a solid, overlaps it") {
  const ShapeSpec tube = ring(1, 0.3, 48);
  for (const ShapeSpec& s : {sphere(0.05, at({1, 0, 0})), box({0.05, 0.05, 0.05}, at({1, 0, 0})), capsule(0.02, 0.05, at({1, 0, 0})),
                             cylinder(0.02, 0.05, at({1, 0, 0})), hull(box_corners({0.05, 0.05, 0.05}), at({1, 0, 0})), half_space(at({0, 0, 5}))}) {
    CHECK(distance(s, tube) < -0.25);
    CHECK(distance(tube, s) < -0.25);
  }
  CHECK(distance(sphere(9), tube) < -1);
  CHECK(distance(box({9, 9, 9}), tube) < -1);
  CHECK(distance(hull(box_corners({9, 9, 9})), tube) < -1);
  CHECK(distance(ring(1, 0.1, 24), tube) < -0.2);  // a thinner ring within the ring
  CHECK(distance(tube, ring(1, 0.1, 24)) < -0.2);
  // Through the hole, touching nothing.
  CHECK(distance(capsule(0.1, 4), tube) == Approx(0.6).margin(0.01));
  CHECK(distance(ring(0.3, 0.1, 24), tube) == Approx(0.3).margin(0.01));
}

TEST_CASE("a hollow block: what is in its hole is outside the solid") {
  auto points = box_corners({2, 2, 2});
  auto triangles = box_triangles();
  for (const Vec3& p : box_corners({1, 1, 1})) points.push_back(p);
  for (auto t : box_triangles(8)) {
    std::swap(t[1], t[2]);
    triangles.push_back(t);
  }
  const ShapeSpec hollow = mesh(points, triangles);
  CHECK(distance(sphere(0.1), hollow) == Approx(0.4));
  CHECK(distance(box({0.2, 0.2, 0.2}), hollow) == Approx(0.4));
  CHECK(distance(sphere(0.1, at({0.75, 0, 0})), hollow) == Approx(-0.35));
  CHECK(distance(ell(at({-0.1, -0.1, -0.1}, no_rotation)), hollow) < 0);
}

TEST_CASE("moved by the way out, an overlapping solid touches the mesh, no more") {
  Dice dice(24);
  const ShapeSpec tube = ring(1, 0.3, 24), solids[2] = {tube, ell()};
  for (const ShapeSpec& still : solids) {
    for (const ShapeKind kind : all_kinds) {
      for (int i = 0; i < 100; ++i) {
        ShapeSpec other = dice.solid(kind, 1.2);
        const Separation s = between(other, still);
        if (s.distance >= 0) continue;
        other.pose.position = other.pose.position + (1 + 1e-6) * (s.b - s.a);
        CAPTURE(static_cast<int>(kind), i, s.distance);
        REQUIRE(distance(other, still) > -1e-7);
      }
    }
  }
}

TEST_CASE("a convex mesh is dealt with as a hull, exactly") {
  const ShapeSpec block = mesh(box_corners({1, 1, 1}), box_triangles());
  CHECK(prepare_shape("block", block).kind == ShapeKind::convex_hull);
  CHECK(prepare_shape("L", ell()).kind == ShapeKind::mesh);
  Dice dice(22);
  for (const ShapeKind kind : all_kinds) {
    for (int i = 0; i < 100; ++i) {
      const ShapeSpec other = dice.solid(kind, 1.5);
      if (kind != ShapeKind::mesh) REQUIRE(std::fabs(distance(block, other) - distance(box({1, 1, 1}), other)) < 1e-7);
    }
  }
}

TEST_CASE("a cutoff changes no distance below it and keeps the others above it") {
  Dice dice(23);
  const ShapeSpec tube = ring(1, 0.3, 24);
  const Shape shape = prepare_shape("ring", tube);
  for (const ShapeKind kind : all_kinds) {
    for (int i = 0; i < 60; ++i) {
      const ShapeSpec other = dice.solid(kind, 2.5);
      const Shape first = prepare_shape("other", other);
      const double full = separation(first, other.pose, shape, identity_pose, 1e9).distance;
      for (const double cutoff : {-0.5, 0.0, 0.1, 0.5, 1.0}) {
        const double cut = separation(first, other.pose, shape, identity_pose, cutoff).distance;
        CAPTURE(static_cast<int>(kind), i, cutoff, full);
        if (full < cutoff) REQUIRE(std::fabs(cut - full) < 1e-9);
        else REQUIRE(cut >= cutoff);
      }
    }
  }
}

TEST_CASE("a hull, a box or a cylinder against a mesh: the least over all its triangles, each asked alone") {
  Dice dice(21);
  const ShapeSpec around = ring(0.5, 0.15, 20);
  const Shape prepared = prepare_shape("ring", around);
  REQUIRE(prepared.kind == ShapeKind::mesh);
  int apart = 0, crossing = 0;
  for (const ShapeKind kind : {ShapeKind::convex_hull, ShapeKind::cylinder, ShapeKind::box, ShapeKind::capsule}) {
    for (int i = 0; i < 100; ++i) {
      ShapeSpec other = dice.solid(kind, 1.4);
      for (Vec3& p : other.points) p = 0.4 * p;
      other.size = 0.4 * other.size, other.radius *= 0.4, other.length *= 0.4;
      if (i % 5 == 0) other.pose.rotation = no_rotation;
      const Shape solid = prepare_shape("solid", other);
      double least = 1e9;
      for (const auto& t : prepared.mesh->triangles) {
        // The triangle as a flat hull: its three corners.
        Shape flat;
        flat.kind = ShapeKind::convex_hull;
        flat.points = {t.corner[0], t.corner[1], t.corner[2]};
        least = std::min(least, separation(solid, other.pose, flat, identity_pose, 1e9).distance);
      }
      CAPTURE(static_cast<int>(kind), i);
      const Separation found = separation(solid, other.pose, prepared, identity_pose, 1e9);
      if (least > 1e-9) {
        REQUIRE(std::fabs(norm(found.a - found.b) - std::fabs(found.distance)) <= 1e-9);
        if (found.distance < 0) continue;  // within the tube, and clear of its surface
        ++apart;
        REQUIRE(std::fabs(found.distance - least) <= 1e-9);
        // A cutoff changes nothing below it.
        const double cut = separation(solid, other.pose, prepared, identity_pose, least + 0.01).distance;
        REQUIRE(std::fabs(cut - found.distance) <= 1e-9);
        REQUIRE(separation(solid, other.pose, prepared, identity_pose, 0.5 * least).distance >= 0.5 * least);
      } else {
        ++crossing;
        REQUIRE(found.distance <= 1e-9);
      }
    }
  }
  CHECK(apart > 150);
  CHECK(crossing > 30);
}
