#include "armwright/elements/bolt_slip.hpp"

#include <cmath>
#include <limits>
#include <vector>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

const std::vector<Point2> square{{-0.2, -0.2}, {0.2, -0.2}, {0.2, 0.2}, {-0.2, 0.2}};

SlipSafety slip(const FaceLoad& load, std::vector<double> clamps = {1e4, 1e4, 1e4, 1e4}) { return slip_safety(bolt_group(square, {}), clamps, 0.15, load); }

}  // namespace

TEST_CASE("slip by a force, by torsion, and by neither") {
  CHECK(slip({3000, 0, 0, 0, 0, 0}).safe == Approx(0.15 * 4e4 / 3000));
  CHECK(slip({0, 0, 0, 0, 0, 500}).safe == Approx(0.15 * 4e4 * std::hypot(0.2, 0.2) / 500));
  CHECK(std::isinf(slip({0, 0, -10, 3, 4, 0}).safe));
  CHECK(slip({1, 0, 0, 0, 0, 0}, {0, 0, 0, 0}).safe == 0);
  CHECK(slip({1000, 0, 0, 0, 0, 0}, {0, 0, 0, 1e4}).safe == 0);  // off the one bolt that clamps: it turns about it
  CHECK(slip({1000, 0, 0, 0, 0, -200}, {0, 0, 0, 1e4}).safe == Approx(1.5));
}

TEST_CASE("slip by force and torsion together: no motion of a grid of turning points bears less") {
  const std::vector<double> clamps{9e3, 2e3, 4e3, 1.2e4};
  const FaceLoad load{700, -350, 0, 0, 0, 260};
  const SlipSafety found = slip(load, clamps);
  CHECK(found.safe == Approx(found.bound).epsilon(1.1e-3));
  double least = std::numeric_limits<double>::infinity();
  for (int i = -400; i <= 400; ++i) {
    for (int j = -400; j <= 400; ++j) {
      const double x = 2e-3 * i, y = 2e-3 * j;  // turns about (x, y) at 1 rad/s
      const double given = load.mz - x * load.fy + y * load.fx;
      double burnt = 0;
      for (int k = 0; k < 4; ++k) burnt += 0.15 * clamps[k] * std::hypot(square[k].x - x, square[k].y - y);
      least = std::min(least, burnt / std::fabs(given));
    }
  }
  CHECK(found.safe <= least * (1 + 1e-9));
  CHECK(found.safe == Approx(least).epsilon(1.2e-3));
}
