#pragma once

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/model/compile.hpp"
#include "cell_cases.hpp"
#include "prepared.hpp"

// The positioner's inverse worked out by hand, for counting what the studies count: two turns of axis 1 times two of the
// elbow; the wrist, whose axes meet in the tool point, only has to keep the range of axis 5.

namespace armwright::testing {

struct HandArm {
  double offset = 0, upper = 0.6, fore = 0.5;
  double lower[3] = {-half_turn, -half_turn, -half_turn}, upper_limit[3] = {half_turn, half_turn, half_turn};
  double bend = half_turn;  ///< axis 5 stays within this, both ways

  CellSpec cell() const {
    CellSpec c = positioner(offset, upper, fore);
    for (std::size_t i = 0; i < 3; ++i) c.arm.joints[i].lower = lower[i], c.arm.joints[i].upper = upper_limit[i];
    c.arm.joints[4].lower = -bend, c.arm.joints[4].upper = bend;
    return c;
  }

  /// First three joints of all postures that bring the wrist to `p` (in the base's frame) within the limits.
  std::vector<Vec3> wrists(const Vec3& p) const {
    std::vector<Vec3> found;
    for (const int turned : {0, 1})
      for (const double side : {1.0, -1.0}) {
        const double r = (turned ? -1 : 1) * std::hypot(p.x, p.y) - offset;
        const double cosine = (r * r + p.z * p.z - upper * upper - fore * fore) / (2 * upper * fore);
        if (std::fabs(cosine) > 1) continue;
        const double q1 = std::atan2(p.y, p.x) + turned * half_turn, q3 = side * std::acos(cosine);
        const double q2 = std::atan2(p.z, r) - std::atan2(fore * std::sin(q3), upper + fore * std::cos(q3));
        const Vec3 q{into(q1, 0), into(q2, 1), into(q3, 2)};
        if (within(q.x, 0) && within(q.y, 1) && within(q.z, 2)) found.push_back(q);
      }
    return found;
  }

  /// Whether the wrist can take that attitude from there: axis 5 bends by the angle between forearm and tool's x.
  bool takes(const Vec3& q, const Rotation& attitude) const {
    const double lean = q.y + q.z;
    const Vec3 along{std::cos(q.x) * std::cos(lean), std::sin(q.x) * std::cos(lean), std::sin(lean)};
    return std::acos(std::clamp(dot(along, attitude.x), -1.0, 1.0)) <= bend;
  }

  std::vector<Vec3> postures(const Pose& tool) const {
    std::vector<Vec3> found;
    for (const Vec3& q : wrists(tool.position))
      if (takes(q, tool.rotation)) found.push_back(q);
    return found;
  }

 private:
  double into(double angle, std::size_t i) const { return angle - 2 * half_turn * std::nearbyint((angle - 0.5 * (lower[i] + upper_limit[i])) / (2 * half_turn)); }
  bool within(double angle, std::size_t i) const { return angle >= lower[i] && angle <= upper_limit[i]; }
};

inline PostureSearch search_of(const CellSpec& cell, double track_step = 0.1, bool with_scene = false, double margin = 0) {
  const auto inverse = prepared_of(cell);
  std::shared_ptr<const Scene> scene;
  if (with_scene) scene = build_scene(cell, inverse->model);
  return make_search(inverse, scene, margin, track_step, half_turn / 12);
}

}  // namespace armwright::testing
