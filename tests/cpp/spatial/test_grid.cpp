#include "armwright/spatial/grid.hpp"

#include <algorithm>
#include <vector>

#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

Grid around(double half_width, double spacing, Vec3 shift) {
  const auto count = static_cast<std::size_t>(2 * half_width / spacing) + 2;
  return {{shift.x - half_width, shift.y - half_width, shift.z - half_width}, spacing, {count, count, count}};
}

CountedVolume ball(const Grid& grid, double radius) {
  std::vector<std::uint8_t> marked(grid.size());
  for (std::size_t i = 0; i < grid.size(); ++i) marked[i] = norm(grid.position(i)) <= radius;
  return counted_volume(grid, marked);
}

}  // namespace

TEST_CASE("positions run z fastest") {
  const Grid grid{{1, 2, 3}, 0.5, {2, 3, 4}};
  CHECK(grid.size() == 24);
  CHECK(norm(grid.position(0) - Vec3{1, 2, 3}) == 0);
  CHECK(norm(grid.position(1) - Vec3{1, 2, 3.5}) == 0);
  CHECK(norm(grid.position(4) - Vec3{1, 2.5, 3}) == 0);
  CHECK(norm(grid.position(23) - Vec3{1.5, 3, 4.5}) == 0);
}

TEST_CASE("a ball's counted volume is 4/3 pi r^3 within the error it states, in about 95 of 100 places") {
  const double radius = 1, truth = 4 * half_turn / 3;
  Draw draw{10};
  int within = 0;
  double worst = 0;
  for (int k = 0; k < 60; ++k) {
    const auto [volume, error] = ball(around(1.15, 0.1, draw.vector(0.05)), radius);
    within += std::fabs(volume - truth) <= error;
    worst = std::fmax(worst, std::fabs(volume - truth));
    CHECK(error < 0.05 * truth);
    CHECK(error > 0);
  }
  CHECK(within >= 54);
  CHECK(worst < 0.02 * truth);
}

TEST_CASE("the stated error falls with the spacing") {
  CHECK(ball(around(1.15, 0.05, {0.011, 0.007, 0.003}), 1).error < 0.6 * ball(around(1.15, 0.2, {0.011, 0.007, 0.003}), 1).error);
}

TEST_CASE("nothing marked is no volume; one mark is one cube") {
  const Grid grid{{0, 0, 0}, 0.5, {3, 3, 3}};
  std::vector<std::uint8_t> marked(27, 0);
  CHECK(counted_volume(grid, marked).volume == 0);
  CHECK(counted_volume(grid, marked).error == 0);
  marked[13] = 1;
  CHECK(counted_volume(grid, marked).volume == Approx(0.125));
  CHECK(counted_volume(grid, marked).error > 0.125);
  CHECK(counted_volume({{0, 0, 0}, 0.1, {0, 0, 0}}, {}).volume == 0);
}
