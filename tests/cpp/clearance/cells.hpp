#pragma once

#include <cstring>

#include "armwright/clearance/scene.hpp"
#include "armwright/model/compile.hpp"
#include "solids.hpp"

// Cells for the tests of scenes: an arm of six joints with a capsule a link, with a track or without, among boxes.

namespace armwright::testing {

inline JointSpec turning(const std::string& name, Pose placement, Vec3 axis) {
  JointSpec j;
  j.name = name, j.placement = placement, j.axis = axis, j.lower = -2.6, j.upper = 2.6;
  return j;
}

inline LinkSpec link(const std::string& name, std::vector<ShapeSpec> shapes) {
  LinkSpec l;
  l.name = name, l.shapes = std::move(shapes);
  return l;
}

/// A capsule from the link's origin to `end`.
inline ShapeSpec strut(double radius, Vec3 end) {
  const double length = norm(end);
  return capsule(radius, length, {frame_on((1 / length) * end), 0.5 * end});
}

inline ArmSpec capsule_arm() {
  ArmSpec arm;
  arm.name = "test arm";
  arm.base_link = link("foot", {cylinder(0.12, 0.2, at({0, 0, 0.1}))});
  arm.joints = {turning("axis 1", at({0, 0, 0.25}), z_axis), turning("axis 2", at({0.05, 0, 0.15}), y_axis),
                turning("axis 3", at({0, 0, 0.5}), y_axis),  turning("axis 4", at({0.2, 0, 0.05}), x_axis),
                turning("axis 5", at({0.25, 0, 0}), y_axis), turning("axis 6", at({0.1, 0, 0}), x_axis)};
  arm.links = {link("column", {strut(0.09, {0.05, 0, 0.15})}), link("upper arm", {strut(0.07, {0, 0, 0.5})}),
               link("elbow", {strut(0.06, {0.2, 0, 0.05})}),   link("forearm", {strut(0.05, {0.25, 0, 0})}),
               link("wrist", {strut(0.04, {0.1, 0, 0})}),      link("hand", {strut(0.035, {0.06, 0, 0})})};
  arm.flange = at({0.08, 0, 0});
  return arm;
}

inline CellSpec plain_cell() {
  CellSpec cell;
  cell.arm = capsule_arm();
  return cell;
}

inline TrackSpec test_track() {
  TrackSpec track;
  track.axis = y_axis;
  track.lower = 0, track.upper = 2;
  track.carriage = link("carriage", {box({0.5, 0.5, 0.1}, at({0, 0, -0.05}))});
  track.rails = {box({0.08, 3, 0.1}, at({0.15, 1, -0.16})), box({0.08, 3, 0.1}, at({-0.15, 1, -0.16}))};
  return track;
}

/// Fixtures of every kind, strewn about the arm.
inline void strew(CellSpec& cell, Dice& dice, std::size_t count, bool boxes_only) {
  static constexpr ShapeKind kinds[] = {ShapeKind::box, ShapeKind::cylinder, ShapeKind::capsule, ShapeKind::sphere, ShapeKind::convex_hull, ShapeKind::mesh};
  for (std::size_t i = 0; i < count; ++i) {
    ShapeSpec s = dice.solid(boxes_only ? ShapeKind::box : kinds[i % 6], 0);
    for (Vec3& p : s.points) p = 0.5 * p;  // else one L may cover the arm's foot
    const double away = dice.within(0.8, 1.8);
    s.pose.position = away * dice.direction();
    s.name = "thing " + std::to_string(i);
    s.clearance = i % 3 == 0 ? 0.05 : 0;
    cell.fixtures.push_back(s);
  }
}

inline std::vector<double> posture(const Model& model, Dice& dice) {
  std::vector<double> q(model.joint_count);
  for (std::size_t i = 0; i < q.size(); ++i) q[i] = dice.within(model.lower[i], model.upper[i]);
  return q;
}

inline bool same_bits(const Clearance& a, const Clearance& b) {
  return a.distance == b.distance && a.solid_a == b.solid_a && a.solid_b == b.solid_b && std::memcmp(&a.point_a, &b.point_a, sizeof(Vec3)) == 0 &&
         std::memcmp(&a.point_b, &b.point_b, sizeof(Vec3)) == 0;
}

}  // namespace armwright::testing
