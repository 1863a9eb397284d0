#include "armwright/limits/guide_duty.hpp"

#include <array>

#include "catch_shim.hpp"

using namespace armwright;

// A maker's way of the mean load, stepwise (textbook): Pm = ((P1³ s1 + P2³ s2 + …)/s)^(1/3).
TEST_CASE("mean load of a block is weighed by the way travelled under it") {
  Guide guide{block_map(std::array<BlockPlace, 1>{{{0, 0, 0}}}, 0, 0), {}, 0, false};
  guide.layout.map.bottomRows(3).setZero();
  const std::vector<double> wrench = {0, 0, -1000, 0, 0, 0, 0, 0, -2000, 0, 0, 0, 0, 700, 300, 0, 0, 0, 0, 0, -9000, 0, 0, 0};
  const std::vector<double> speed = {0.5, -1.0, 0.5, 2.0}, duty = {2, 3, 2, 0};  // 1 m, 3 m, 1 m; the last counts for peaks only
  std::vector<double> loads(20), equivalent(4);
  std::array<BlockDuty, 1> block;
  guide_duty(guide, wrench, speed, duty, loads, equivalent, block);
  CHECK(equivalent[2] == Approx(1000));  // 300 up and 700 aside
  CHECK(block[0].mean == Approx(std::cbrt((2 * 1e9 + 3 * 8e9) / 5)));
  CHECK(block[0].travel_greatest == Approx(2000));
  CHECK(block[0].equivalent_greatest == Approx(9000));
  CHECK(block[0].equivalent_row == 3);
  CHECK(block[0].radial_least == Approx(-300));
  CHECK(block[0].radial_least_row == 2);
  CHECK(block[0].radial_greatest_row == 3);
  CHECK(block[0].lateral_greatest == Approx(700));
  CHECK(block[0].lateral_row == 2);

  guide.roller = true;
  guide_duty(guide, wrench, speed, duty, loads, equivalent, block);
  CHECK(block[0].mean == Approx(std::pow((2 * std::pow(1000, 10.0 / 3) + 3 * std::pow(2000, 10.0 / 3)) / 5, 0.3)));
  guide_duty(guide, wrench, speed, std::vector<double>(4), loads, equivalent, block);
  CHECK(block[0].mean == 0);
}

TEST_CASE("a moment without a known factor leaves what counts unknown, and says so") {
  Guide guide{block_map(std::array<BlockPlace, 1>{{{0, 0, 0}}}, 0, 0), {}, 0, false};
  guide.factors.roll = std::nan("");
  std::vector<double> loads(10), equivalent(2);
  std::array<BlockDuty, 1> block;
  guide_duty(guide, std::vector<double>{0, 0, -9000, 0, 0, 0, 0, 0, -10, 5, 0, 0}, std::vector<double>{1, 1}, std::vector<double>{1, 1}, loads, equivalent, block);
  CHECK(std::isnan(block[0].equivalent_greatest));
  CHECK(block[0].equivalent_row == 1);
  CHECK(std::isnan(block[0].mean));
  CHECK(std::isnan(block[0].travel_greatest));
  CHECK(block[0].radial_greatest == Approx(9000));
}

// Two equal loads on a simple span, a apart (bridge tables, from memory): greatest moment P (2 l − a)²/(8 l), one of them a/4 beside the middle.
TEST_CASE("the worst place of a train on a simple span") {
  const double l = 1, a = 0.3;
  std::vector<double> places;
  for (int i = 0; i <= 2000; ++i) places.push_back(-a + i * (l + a) / 2000);
  const RailBending worst = worst_rail_bending({1, l, 1, false}, std::array{0.0, a}, std::vector<double>{-1, -1, 100, 100, 50, 50}, places);
  CHECK(worst.moment == Approx(100 * (2 * l - a) * (2 * l - a) / (8 * l)).epsilon(1e-6));
  CHECK(worst.moment_row == 1);
  CHECK((worst.moment_place == Approx(l / 2 - a / 4).margin(1e-3) || worst.moment_place == Approx(l / 2 - 3 * a / 4).margin(1e-3)));
  CHECK(worst.deflection_row == 1);
  // lifted: the other sign is kept
  CHECK(worst_rail_bending({1, l, 1, false}, std::array{0.0}, std::vector<double>{10, -30}, std::array{l / 2}).deflection == Approx(-30.0 / 48));
}
