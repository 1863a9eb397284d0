#pragma once

#include <cmath>
#include <cstdint>
#include <vector>

#include "armwright/model/cell_spec.hpp"
#include "armwright/spatial/turns.hpp"

// Cells for the tests of several rooms, and slow sums straight from the description, which share nothing with the
// joint steps that the core compiles.

namespace armwright::testing {

inline constexpr double quarter_turn = 1.5707963267948966, half_turn = 2 * quarter_turn;
inline constexpr double g0 = 9.80665;

/// Seeded numbers, the same on every machine (SplitMix64, public domain).
struct Draw {
  std::uint64_t state;
  double uniform(double low, double high) {
    std::uint64_t z = (state += 0x9e3779b97f4a7c15ull);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ull;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebull;
    return low + (high - low) * static_cast<double>((z ^ (z >> 31)) >> 11) * 0x1p-53;
  }
  Vec3 vector(double size) { return {uniform(-size, size), uniform(-size, size), uniform(-size, size)}; }
  Vec3 direction() {
    for (;;) {
      const Vec3 v = vector(1);
      if (norm(v) > 0.1 && norm(v) < 1) return (1 / norm(v)) * v;
    }
  }
  Pose pose(double size) { return {turn_about(direction(), uniform(-3, 3)), vector(size)}; }
  Inertia body() {  // a box of even density, anyhow turned
    const double mass = uniform(0.5, 6), a = uniform(0.02, 0.3), b = uniform(0.02, 0.3), c = uniform(0.02, 0.3);
    const Inertia box{mass, {0, 0, 0}, mass * (b * b + c * c) / 12, mass * (a * a + c * c) / 12, mass * (a * a + b * b) / 12, 0, 0, 0};
    return pose(0.2) * box;
  }
};

inline Pose at(Vec3 position) { return {no_rotation, position}; }

inline JointSpec joint(const std::string& name, Pose placement, Vec3 axis, double lower = -half_turn, double upper = half_turn) {
  JointSpec j;
  j.name = name, j.placement = placement, j.axis = axis, j.lower = lower, j.upper = upper;
  return j;
}

/// An arm of any geometry: bodies on all links, tool and load, anyhow mounted; every third joint slides if asked for.
inline CellSpec random_cell(Draw& draw, std::size_t joints, bool sliding = false) {
  CellSpec cell;
  cell.mount = draw.pose(1);
  for (std::size_t i = 0; i < joints; ++i) {
    JointSpec j = joint("axis " + std::to_string(i + 1), draw.pose(0.4), draw.direction());
    if (sliding && i % 3 == 1) j.kind = JointKind::prismatic, j.lower = -0.5, j.upper = 0.8;
    cell.arm.joints.push_back(j);
    LinkSpec link;
    link.name = "link " + std::to_string(i + 1), link.inertia = draw.body();
    cell.arm.links.push_back(link);
  }
  cell.arm.flange = draw.pose(0.1);
  cell.tool.tool_point = draw.pose(0.2);
  cell.tool.inertia = draw.body();
  cell.load = LoadSpec{};
  cell.load->inertia = draw.body();
  return cell;
}

inline TrackSpec random_track(Draw& draw) {
  TrackSpec track;
  track.pose = draw.pose(1), track.axis = draw.direction(), track.lower = -0.3, track.upper = 1.7;
  track.carriage.name = "carriage", track.carriage.inertia = draw.body();
  return track;
}

/// An arm whose inverse is done by hand: axis 1 upright, axes 2 and 3 level with the shoulder `offset` from axis 1, links
/// `upper` and `fore`, and a wrist of three axes (along, across, along) that meet in the tool point.
inline CellSpec positioner(double offset, double upper, double fore) {
  CellSpec cell;
  const Vec3 x{1, 0, 0}, y{0, 1, 0}, down{0, -1, 0};
  cell.arm.joints = {joint("axis 1", identity_pose, {0, 0, 1}), joint("axis 2", at({offset, 0, 0}), down),
                     joint("axis 3", at({upper, 0, 0}), down),  joint("axis 4", at({fore, 0, 0}), x),
                     joint("axis 5", identity_pose, y),         joint("axis 6", identity_pose, x)};
  cell.arm.links.resize(6);
  for (std::size_t i = 0; i < 6; ++i) cell.arm.links[i].name = "link " + std::to_string(i + 1);
  return cell;
}

/// Frames in the world by plain multiplication of what is described.
struct SlowFrames {
  std::vector<Pose> joint;  ///< each joint's frame before it moves
  std::vector<Pose> link;   ///< each link's frame
  std::vector<Vec3> axis;
  std::vector<JointKind> kind;
  std::vector<Inertia> body;
  Pose flange, tool;
};

inline SlowFrames slow_frames(const CellSpec& cell, const double* q) {
  SlowFrames out;
  Pose X = identity_pose;
  const auto step = [&](const Pose& placement, Vec3 axis, JointKind kind, double value, const Inertia& body) {
    X = X * placement;
    out.joint.push_back(X);
    out.axis.push_back(X.rotation * axis);
    out.kind.push_back(kind);
    X = kind == JointKind::revolute ? X * Pose{turn_about(axis, value), {0, 0, 0}} : X * at(value * axis);
    out.link.push_back(X);
    out.body.push_back(body);
  };
  if (cell.track) step(cell.track->pose, cell.track->axis, JointKind::prismatic, *q++, cell.track->carriage.inertia);
  X = X * cell.mount;
  for (std::size_t i = 0; i < cell.arm.joints.size(); ++i) {
    const JointSpec& j = cell.arm.joints[i];
    step(j.placement, j.axis, j.kind, *q++, cell.arm.links[i].inertia);
  }
  out.flange = X * cell.arm.flange;
  out.tool = out.flange * cell.tool.tool_point;
  return out;
}

struct BodyInWorld {
  std::size_t link;
  Inertia body;
};

/// Every body in the world, and which link carries it.
inline std::vector<BodyInWorld> slow_bodies(const CellSpec& cell, const SlowFrames& frames, bool with_load) {
  std::vector<BodyInWorld> bodies;
  for (std::size_t i = 0; i < frames.link.size(); ++i) bodies.push_back({i, frames.link[i] * frames.body[i]});
  bodies.push_back({frames.link.size() - 1, frames.flange * cell.tool.inertia});
  if (with_load && cell.load) bodies.push_back({frames.link.size() - 1, frames.tool * cell.load->inertia});
  return bodies;
}

/// -sum of m g . c, J.
inline double potential_energy(const CellSpec& cell, const double* q, bool with_load) {
  double energy = 0;
  for (const auto& [link, body] : slow_bodies(cell, slow_frames(cell, q), with_load)) energy -= body.mass * dot(cell.gravity, body.centre);
  return energy;
}

/// Mass matrix from the bodies' Jacobians: sum of m Jv' Jv + Jw' I Jw. Row-major n x n.
inline std::vector<double> slow_mass_matrix(const CellSpec& cell, const double* q, bool with_load) {
  const SlowFrames frames = slow_frames(cell, q);
  const std::size_t n = frames.link.size();
  std::vector<double> M(n * n, 0);
  for (const auto& [link, b] : slow_bodies(cell, frames, with_load)) {
    const auto turned = [&b = b](const Vec3& w) {
      return Vec3{b.xx * w.x + b.xy * w.y + b.xz * w.z, b.xy * w.x + b.yy * w.y + b.yz * w.z, b.xz * w.x + b.yz * w.y + b.zz * w.z};
    };
    std::vector<Vec3> v(n, {0, 0, 0}), w(n, {0, 0, 0});
    for (std::size_t i = 0; i <= link; ++i) {
      const bool turns = frames.kind[i] == JointKind::revolute;
      v[i] = turns ? cross(frames.axis[i], b.centre - frames.joint[i].position) : frames.axis[i];
      if (turns) w[i] = frames.axis[i];
    }
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j) M[i * n + j] += b.mass * dot(v[i], v[j]) + dot(w[i], turned(w[j]));
  }
  return M;
}

inline double furthest(const Pose& a, const Pose& b) { return std::fmax(norm(a.position - b.position), angle_between(a.rotation, b.rotation)); }

}  // namespace armwright::testing
