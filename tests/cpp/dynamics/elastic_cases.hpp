#pragma once

#include <limits>

#include "armwright/dynamics/elastic_chain.hpp"
#include "armwright/model/compile.hpp"
#include "cell_cases.hpp"

namespace armwright::testing {

inline constexpr double never = std::numeric_limits<double>::infinity();

inline LinkBeam beam_of(int link, Vec3 start, Vec3 end, const Beam& beam, double mass = 0, std::int32_t cause = 0) {
  LinkBeam tube;
  tube.link = link, tube.start = start, tube.end = end, tube.beam = beam, tube.mass = mass, tube.cause = cause;
  return tube;
}

/// One link on one joint, along x from the joint, of `mass` evenly spread over `length`; gravity along -z, joint upright, so that
/// weight bends the link and turns nothing.
inline CellSpec cantilever(double length, double mass, double tip) {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, 0, 1})};
  cell.arm.links.resize(1);
  cell.arm.links[0].name = "link 1";
  cell.arm.links[0].inertia = {mass, {length / 2, 0, 0}, 0, mass * length * length / 12, mass * length * length / 12, 0, 0, 0};
  cell.arm.flange = at({length, 0, 0});
  cell.tool.inertia.mass = tip;
  return cell;
}

}  // namespace armwright::testing
