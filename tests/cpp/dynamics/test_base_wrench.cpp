#include "armwright/dynamics/base_wrench.hpp"

#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "momentum.hpp"

using namespace armwright;
using namespace armwright::testing;

TEST_CASE("what an arm puts on its base: weight less the change of its momentum") {
  Draw draw{23};
  for (int k = 0; k < 12; ++k) {
    CellSpec cell = random_cell(draw, 3 + static_cast<std::size_t>(k) % 4, k % 3 == 0);
    if (k % 2 == 0) cell.track = random_track(draw);
    const Model model = compile(cell);
    const std::size_t n = model.joint_count;
    std::vector<double> q(n), speed(n), change(n);
    for (std::size_t i = 0; i < n; ++i) q[i] = draw.uniform(-1, 1), speed[i] = draw.uniform(-1, 1), change[i] = draw.uniform(-2, 2);
    const std::array<double, 6> wanted = push_needed(cell, q, speed, change, 0);
    std::array<double, 6> found{};
    base_wrenches(model, model.load, q, speed, change, found);
    double size = 0;
    for (const double v : wanted) size = std::max(size, std::fabs(v));
    for (std::size_t i = 0; i < 6; ++i) CHECK(found[i] == Approx(-wanted[i]).margin(2e-5 * size).epsilon(0));
  }
}
