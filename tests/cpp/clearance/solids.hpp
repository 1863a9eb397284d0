#pragma once

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "armwright/clearance/pairs.hpp"
#include "armwright/spatial/turns.hpp"

// Solids made in one line, and random ones, for the tests of this room.

namespace armwright::testing {

inline ShapeSpec box(Vec3 size, Pose pose = identity_pose) {
  ShapeSpec s;
  s.kind = ShapeKind::box, s.size = size, s.pose = pose;
  return s;
}
inline ShapeSpec sphere(double radius, Pose pose = identity_pose) {
  ShapeSpec s;
  s.kind = ShapeKind::sphere, s.radius = radius, s.pose = pose;
  return s;
}
inline ShapeSpec capsule(double radius, double length, Pose pose = identity_pose) {
  ShapeSpec s;
  s.kind = ShapeKind::capsule, s.radius = radius, s.length = length, s.pose = pose;
  return s;
}
inline ShapeSpec cylinder(double radius, double length, Pose pose = identity_pose) {
  ShapeSpec s;
  s.kind = ShapeKind::cylinder, s.radius = radius, s.length = length, s.pose = pose;
  return s;
}
inline ShapeSpec half_space(Pose pose = identity_pose) {
  ShapeSpec s;
  s.kind = ShapeKind::half_space, s.pose = pose;
  return s;
}
inline ShapeSpec hull(std::vector<Vec3> points, Pose pose = identity_pose) {
  ShapeSpec s;
  s.kind = ShapeKind::convex_hull, s.points = std::move(points), s.pose = pose;
  return s;
}
inline ShapeSpec mesh(std::vector<Vec3> points, std::vector<std::array<std::int32_t, 3>> triangles, Pose pose = identity_pose) {
  ShapeSpec s;
  s.kind = ShapeKind::mesh, s.points = std::move(points), s.triangles = std::move(triangles), s.pose = pose;
  return s;
}

inline std::vector<Vec3> box_corners(Vec3 size) {
  std::vector<Vec3> corners;
  for (int i = 0; i < 8; ++i) corners.push_back({(i & 1 ? 0.5 : -0.5) * size.x, (i & 2 ? 0.5 : -0.5) * size.y, (i & 4 ? 0.5 : -0.5) * size.z});
  return corners;
}
inline std::vector<std::array<std::int32_t, 3>> box_triangles(std::int32_t first = 0) {
  std::vector<std::array<std::int32_t, 3>> t{{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4}, {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
  for (auto& triangle : t)
    for (auto& i : triangle) i += first;
  return t;
}

/// An L of two unit-thick arms: the square [0,2]² without (1,2]², 1 m high (z 0..1). Not convex.
inline ShapeSpec ell(Pose pose = identity_pose) {
  const Vec3 outline[6] = {{0, 0, 0}, {2, 0, 0}, {2, 1, 0}, {1, 1, 0}, {1, 2, 0}, {0, 2, 0}};
  std::vector<Vec3> points;
  for (const Vec3& p : outline) points.push_back(p);
  for (const Vec3& p : outline) points.push_back({p.x, p.y, 1});
  std::vector<std::array<std::int32_t, 3>> t;
  for (const std::array<std::int32_t, 3> f : {std::array<std::int32_t, 3>{0, 1, 2}, {0, 2, 3}, {0, 3, 4}, {0, 4, 5}}) {
    t.push_back({f[0], f[2], f[1]});
    t.push_back({f[0] + 6, f[1] + 6, f[2] + 6});
  }
  for (std::int32_t i = 0; i < 6; ++i) {
    const std::int32_t j = (i + 1) % 6;
    t.push_back({i, j, j + 6});
    t.push_back({i, j + 6, i + 6});
  }
  return mesh(points, t, pose);
}

inline Pose at(Vec3 position) { return {no_rotation, position}; }
inline Pose at(Vec3 position, Rotation rotation) { return {rotation, position}; }
inline constexpr Vec3 x_axis{1, 0, 0}, y_axis{0, 1, 0}, z_axis{0, 0, 1};

inline Separation between(const ShapeSpec& a, const ShapeSpec& b, double cutoff = std::numeric_limits<double>::infinity()) {
  return separation(prepare_shape("a", a), a.pose, prepare_shape("b", b), b.pose, cutoff);
}
inline double distance(const ShapeSpec& a, const ShapeSpec& b) { return between(a, b).distance; }

/// Random solids, the same ones every run.
struct Dice {
  std::mt19937_64 engine;
  explicit Dice(std::uint64_t seed) : engine(seed) {}
  double share() { return std::uniform_real_distribution<double>(0, 1)(engine); }
  double within(double a, double b) { return a + (b - a) * share(); }
  Vec3 direction() {
    std::normal_distribution<double> normal;
    const Vec3 v{normal(engine), normal(engine), normal(engine)};
    return (1 / norm(v)) * v;
  }
  Rotation rotation() {
    const Vec3 axis = direction();
    return turn_about(axis, within(-3.14, 3.14));
  }
  Pose pose(double far) {
    const Rotation R = rotation();
    const double away = within(0, far);
    return {R, away * direction()};
  }
  std::vector<Vec3> cloud(double size) {
    std::vector<Vec3> points(4 + static_cast<std::size_t>(share() * 16));
    for (auto& p : points) {
      const double away = within(0.4, 1) * size;
      p = away * direction();
    }
    return points;
  }
  ShapeSpec solid(ShapeKind kind, double far) {
    // One after the other: in which order a call's arguments are worked out is for the compiler to choose.
    const Pose X = pose(far);
    const double u = share(), v = share(), w = share();
    switch (kind) {
      case ShapeKind::box: return box({0.1 + 0.9 * u, 0.1 + 0.9 * v, 0.1 + 0.9 * w}, X);
      case ShapeKind::sphere: return sphere(0.05 + 0.45 * u, X);
      case ShapeKind::capsule: return capsule(0.05 + 0.25 * u, 0.1 + 0.9 * v, X);
      case ShapeKind::cylinder: return cylinder(0.05 + 0.45 * u, 0.05 + 0.95 * v, X);
      case ShapeKind::convex_hull: return hull(cloud(0.5), X);
      case ShapeKind::mesh: return ell(X);
      default: return half_space(X);
    }
  }
};

inline constexpr ShapeKind all_kinds[] = {ShapeKind::box, ShapeKind::cylinder, ShapeKind::capsule, ShapeKind::sphere, ShapeKind::half_space, ShapeKind::convex_hull, ShapeKind::mesh};

}  // namespace armwright::testing
