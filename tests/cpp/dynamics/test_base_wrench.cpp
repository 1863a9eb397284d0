#include "armwright/dynamics/base_wrench.hpp"

#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// Momentum of all bodies that move, about the world's origin, by differences of slow frames: linear, then angular.
std::array<double, 6> momentum_of(const CellSpec& cell, const std::vector<double>& q, const std::vector<double>& speed) {
  constexpr double h = 1e-6;
  std::vector<double> before = q, after = q;
  for (std::size_t i = 0; i < q.size(); ++i) before[i] -= h * speed[i], after[i] += h * speed[i];
  const auto a = slow_bodies(cell, slow_frames(cell, before.data()), true), b = slow_bodies(cell, slow_frames(cell, after.data()), true);
  const auto here = slow_bodies(cell, slow_frames(cell, q.data()), true);
  const SlowFrames fa = slow_frames(cell, before.data()), fb = slow_frames(cell, after.data());
  std::array<double, 6> sum{};
  for (std::size_t k = 0; k < here.size(); ++k) {
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

}  // namespace

TEST_CASE("what an arm puts on its base: weight less the change of its momentum") {
  Draw draw{23};
  for (int k = 0; k < 12; ++k) {
    CellSpec cell = random_cell(draw, 3 + static_cast<std::size_t>(k) % 4, k % 3 == 0);
    if (k % 2 == 0) cell.track = random_track(draw);
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    std::vector<double> q(n), speed(n), change(n);
    for (std::size_t i = 0; i < n; ++i) q[i] = draw.uniform(-1, 1), speed[i] = draw.uniform(-1, 1), change[i] = draw.uniform(-2, 2);
    constexpr double h = 1e-4;
    std::array<std::vector<double>, 2> at, fast;
    for (int side : {0, 1}) {
      const double t = side == 0 ? -h : h;
      at[static_cast<std::size_t>(side)] = q, fast[static_cast<std::size_t>(side)] = speed;
      for (std::size_t i = 0; i < n; ++i) {
        at[static_cast<std::size_t>(side)][i] += t * speed[i] + 0.5 * t * t * change[i];
        fast[static_cast<std::size_t>(side)][i] += t * change[i];
      }
    }
    const auto before = momentum_of(cell, at[0], fast[0]), after = momentum_of(cell, at[1], fast[1]);
    std::array<double, 6> wanted{};
    for (std::size_t i = 0; i < 6; ++i) wanted[i] = -(after[i] - before[i]) / (2 * h);
    for (const auto& [link, body] : slow_bodies(cell, slow_frames(cell, q.data()), true)) {
      const Vec3 weight = body.mass * cell.gravity, moment = cross(body.centre, weight);
      const double parts[6] = {weight.x, weight.y, weight.z, moment.x, moment.y, moment.z};
      for (std::size_t i = 0; i < 6; ++i) wanted[i] += parts[i];
    }
    std::array<double, 6> found{};
    base_wrenches(model, model.load, q, speed, change, found);
    double size = 0;
    for (const double v : wanted) size = std::max(size, std::fabs(v));
    for (std::size_t i = 0; i < 6; ++i) CHECK(found[i] == Approx(wanted[i]).margin(2e-5 * size).epsilon(0));
  }
}
