#pragma once

#include <array>
#include <vector>

#include "cell_cases.hpp"

namespace armwright::testing {

/// Momentum of all bodies from a link outwards, about the world's origin, by differences of slow frames: linear, then angular.
inline std::array<double, 6> momentum_beyond(const CellSpec& cell, const std::vector<double>& q, const std::vector<double>& speed, std::size_t first) {
  constexpr double h = 1e-6;
  std::vector<double> before = q, after = q;
  for (std::size_t i = 0; i < q.size(); ++i) before[i] -= h * speed[i], after[i] += h * speed[i];
  const SlowFrames fa = slow_frames(cell, before.data()), fb = slow_frames(cell, after.data());
  const auto a = slow_bodies(cell, fa, true), b = slow_bodies(cell, fb, true), here = slow_bodies(cell, slow_frames(cell, q.data()), true);
  std::array<double, 6> sum{};
  for (std::size_t k = 0; k < here.size(); ++k) {
    if (here[k].link < first) continue;
    const Inertia& body = here[k].body;
    const Vec3 v = (1 / (2 * h)) * (b[k].body.centre - a[k].body.centre), p = body.mass * v;
    // Angular velocity from R(after) R(before)ᵀ of its link.
    const Rotation &Ra = fa.link[here[k].link].rotation, &Rb = fb.link[here[k].link].rotation;
    const Vec3 w = (1 / (4 * h)) * (cross(Ra.x, Rb.x) + cross(Ra.y, Rb.y) + cross(Ra.z, Rb.z));
    const Vec3 spin{body.xx * w.x + body.xy * w.y + body.xz * w.z, body.xy * w.x + body.yy * w.y + body.yz * w.z, body.xz * w.x + body.yz * w.y + body.zz * w.z};
    const Vec3 l = spin + cross(body.centre, p);
    const double parts[6] = {p.x, p.y, p.z, l.x, l.y, l.z};
    for (std::size_t i = 0; i < 6; ++i) sum[i] += parts[i];
  }
  return sum;
}

/// What must push all bodies from a link outwards besides their weight, so that they move so: the change of their momentum less
/// their weight and its moment about the world's origin.
inline std::array<double, 6> push_needed(const CellSpec& cell, const std::vector<double>& q, const std::vector<double>& speed,
                                         const std::vector<double>& change, std::size_t first) {
  constexpr double h = 1e-4;
  std::array<double, 6> sides[2];
  for (const int side : {0, 1}) {
    const double t = side == 0 ? -h : h;
    std::vector<double> at = q, fast = speed;
    for (std::size_t i = 0; i < q.size(); ++i) at[i] += t * speed[i] + 0.5 * t * t * change[i], fast[i] += t * change[i];
    sides[side] = momentum_beyond(cell, at, fast, first);
  }
  std::array<double, 6> push{};
  for (std::size_t i = 0; i < 6; ++i) push[i] = (sides[1][i] - sides[0][i]) / (2 * h);
  for (const auto& [link, body] : slow_bodies(cell, slow_frames(cell, q.data()), true)) {
    if (link < first) continue;
    const Vec3 weight = body.mass * cell.gravity, moment = cross(body.centre, weight);
    const double parts[6] = {weight.x, weight.y, weight.z, moment.x, moment.y, moment.z};
    for (std::size_t i = 0; i < 6; ++i) push[i] -= parts[i];
  }
  return push;
}

}  // namespace armwright::testing
