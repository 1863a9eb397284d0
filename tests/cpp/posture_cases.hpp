#pragma once

#include "armwright/clearance/postures.hpp"
#include "armwright/model/compile.hpp"
#include "cell_cases.hpp"
#include "prepared.hpp"

namespace armwright::testing {

// Arms of closed form and of none, on a track or not, with joints beyond six or fewer, narrow ranges, ranges of no width, fixtures.
inline CellSpec some_cell(Draw& draw, int kind) {
  CellSpec cell;
  if (kind % 4 != 3) {
    cell = positioner(draw.uniform(0, 0.2), draw.uniform(0.4, 0.6), draw.uniform(0.3, 0.6));
    cell.mount = draw.pose(0.2);
    cell.tool.tool_point = draw.uniform(0, 1) < 0.3 ? identity_pose : draw.pose(0.2);
    for (JointSpec& j : cell.arm.joints) {
      const double middle = draw.uniform(-0.5, 0.5), half = draw.uniform(0.5, 3.5);
      j.lower = middle - half, j.upper = middle + half;
      if (draw.uniform(0, 1) < 0.1) j.lower = -unlimited, j.upper = unlimited;
    }
  } else {
    cell = random_cell(draw, 4 + static_cast<std::size_t>(draw.uniform(0, 4)), draw.uniform(0, 1) < 0.3);
    cell.load.reset();
  }
  if (kind % 3 == 1) cell.track = random_track(draw), cell.track->carriage.shapes.clear();
  if (kind % 4 == 2) {  // a seventh joint, given
    cell.arm.joints.push_back(joint("axis 7", draw.pose(0.1), draw.direction(), -0.4, 0.3));
    cell.arm.links.push_back({});
    cell.arm.links.back().name = "link 7";
  }
  for (LinkSpec& link : cell.arm.links) {
    ShapeSpec shape;
    shape.kind = ShapeKind::capsule, shape.radius = draw.uniform(0.01, 0.05), shape.length = draw.uniform(0.05, 0.2);
    link.shapes = {shape};
  }
  for (int i = 0; i < 3; ++i) {
    ShapeSpec box;
    box.kind = ShapeKind::box, box.name = "box " + std::to_string(i), box.size = {0.3, 0.2, 0.1}, box.pose = draw.pose(0.7);
    if (draw.uniform(0, 1) < 0.4) box.clearance = draw.uniform(0, 0.1);
    cell.fixtures.push_back(box);
  }
  return cell;
}

inline PostureSearch search_in(const CellSpec& cell, bool solids, double margin) {
  const auto inverse = prepared_of(cell);
  auto scene = solids ? build_scene(cell, inverse->model) : nullptr;
  return make_search(inverse, std::move(scene), margin, 0.7, 0.4);
}

}  // namespace armwright::testing
