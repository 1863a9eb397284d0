#include "armwright/clearance/volume.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/clearance/pairs.hpp"
#include "armwright/kinematics/forward.hpp"
#include "armwright/support/refused.hpp"
#include "catch_shim.hpp"
#include "cells.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

Clearance clearance(const Volume& volume, const Model& model, const std::vector<double>& q) {
  Clearance found{};
  volume_distances(volume, model, q, {&found, 1});
  return found;
}

std::string other(const Volume& volume, const Clearance& found) { return solid_names(volume)[static_cast<std::size_t>(found.solid_b)]; }

ShapeSpec ball(double radius, Vec3 centre, const std::string& name) {
  ShapeSpec s = sphere(radius, at(centre));
  s.name = name;
  return s;
}

// The least of all pairs, of whatever size and distance.
double slow_distance(const CellSpec& cell, const Model& model, std::size_t link, std::span<const ShapeSpec> shapes, const std::vector<double>& q) {
  std::vector<double> poses(16 * q.size());
  link_poses(model, q, poses);
  const auto frame = [&](std::size_t i) { return pose_from_rows(&poses[16 * i]); };
  std::vector<std::pair<Pose, ShapeSpec>> others;
  for (const ShapeSpec& s : cell.arm.base_link.shapes) others.push_back({cell.mount, s});
  for (std::size_t i = 0; i < cell.arm.links.size(); ++i)
    for (const ShapeSpec& s : cell.arm.links[i].shapes)
      if (i != link) others.push_back({frame(i), s});
  for (const ShapeSpec& s : cell.tool.shapes) others.push_back({frame(5) * cell.arm.flange, s});
  for (const ShapeSpec& s : cell.fixtures) others.push_back({identity_pose, s});
  double least = std::numeric_limits<double>::infinity();
  for (const ShapeSpec& a : shapes)
    for (const auto& [X, b] : others)
      least = std::min(least, separation(prepare_shape("a", a), frame(link) * a.pose, prepare_shape("b", b), X * b.pose, 1e9).distance);
  return least;
}

}  // namespace

TEST_CASE("a volume is as near as the nearest of all else, its own link left out") {
  Dice dice{11};
  CellSpec cell = plain_cell();
  cell.mount = at({0.1, -0.2, 0.05});
  cell.tool.shapes = {ball(0.05, {0, 0, 0.1}, "gripper")};
  strew(cell, dice, 12, false);
  const Model model = compile(cell);
  for (std::size_t link = 0; link < 6; ++link) {
    const std::vector<ShapeSpec> shapes{box({0.2, 0.15, 0.3}, at({0.1, 0.2, 0})), ball(0.08, {-0.1, 0, 0.2}, "hand room")};
    const auto volume = build_volume(cell, model, cell.arm.links[link].name, shapes);
    for (int trial = 0; trial < 20; ++trial) {
      const auto q = posture(model, dice);
      const double slow = slow_distance(cell, model, link, shapes, q);
      const Clearance found = clearance(*volume, model, q);
      CHECK(std::fabs(found.distance - slow) < 1e-6);
      if (found.distance > 0) CHECK(std::fabs(norm(found.point_a - found.point_b) - found.distance) < 1e-6);
    }
  }
}

// Distance of two balls: between their centres, less both radii.
TEST_CASE("the next link counts, the volume's own does not") {
  CellSpec cell;
  cell.arm.joints = {turning("axis 1", identity_pose, z_axis), turning("axis 2", at({0.5, 0, 0}), z_axis)};
  cell.arm.links = {link("first", {ball(0.3, {0.2, 0, 0}, "")}), link("second", {ball(0.1, {0.4, 0, 0}, "")})};
  const Model model = compile(cell);
  const std::vector<ShapeSpec> shapes{ball(0.05, {0.2, 0.4, 0}, "way out")};
  const auto volume = build_volume(cell, model, "first", shapes);
  const double a = 1.1;
  const Clearance found = clearance(*volume, model, {0.7, a});
  CHECK(std::fabs(found.distance - (std::hypot(0.3 + 0.4 * std::cos(a), -0.4 + 0.4 * std::sin(a)) - 0.15)) < 1e-12);
  CHECK(other(*volume, found) == "second");
  const auto base = build_volume(cell, model, "base", shapes);
  CHECK(other(*base, clearance(*base, model, {0, 0})) == "first");
  cell.arm.links[1].shapes.clear();
  const Clearance alone = clearance(*build_volume(cell, model, "first", shapes), model, {0, 0});
  CHECK(std::isinf(alone.distance));
  CHECK(alone.solid_b == -1);
}

TEST_CASE("a volume that cannot be is refused") {
  const CellSpec cell = plain_cell();
  const Model model = compile(cell);
  const std::vector<ShapeSpec> shapes{ball(0.05, {0, 0, 0}, "room")};
  CHECK_THROWS_AS(build_volume(cell, model, "nowhere", shapes), Refused);
  ShapeSpec floor;
  floor.kind = ShapeKind::half_space;
  CHECK_THROWS_AS(build_volume(cell, model, "wrist", {{floor}}), Refused);
  CHECK_THROWS_AS(build_volume(cell, model, "wrist", {{ball(0, {0, 0, 0}, "nothing")}}), Refused);
}
