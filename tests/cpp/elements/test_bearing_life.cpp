#include "armwright/elements/bearing_life.hpp"

#include <cmath>

#include "catch_shim.hpp"

using namespace armwright;

// ISO 281:2007, table of the life modification factor for reliability; all from memory.
TEST_CASE("the factor for reliability rounds to the standard's table") {
  const double table[][3] = {{90, 1, .005},     {95, .64, .005},    {96, .55, .005},     {97, .47, .005},     {98, .37, .005},
                             {99, .25, .005},   {99.2, .22, .005},  {99.4, .19, .005},   {99.6, .16, .005},   {99.8, .12, .005},
                             {99.9, .093, .0005}, {99.92, .087, .0005}, {99.94, .080, .0005}, {99.95, .077, .0005}};
  for (const auto& [percent, factor, half_a_digit] : table) CHECK(std::fabs(reliability_factor(percent / 100) - factor) <= half_a_digit);
}

TEST_CASE("half the load lives eight times as long on balls, ten times on rollers") {
  CHECK(rating_life(10e3, 10e3, 3) == Approx(1e6));
  CHECK(rating_life(10e3, 5e3, 3) == Approx(8e6));
  CHECK(rating_life(10e3, 5e3, life_exponent(BearingKind::tapered)) == Approx(std::pow(2, 10.0 / 3) * 1e6));
  CHECK(std::isinf(rating_life(10e3, 0, 3)));
}

TEST_CASE("the rating that a life needs gives that life") {
  const double needed = needed_rating(4000, 3e8, 10.0 / 3, reliability_factor(0.97));
  CHECK(reliability_factor(0.97) * rating_life(needed, 4000, 10.0 / 3) == Approx(3e8));
}

// Two halves of the same travel with P and 2P: ((1 + 2^p)/2)^(1/p) P.
TEST_CASE("the mean load is the load that wears as much") {
  CHECK(mean_equivalent_load(0.5 * std::pow(1000, 3) + 0.5 * std::pow(2000, 3), 1, 3) == Approx(1000 * std::cbrt(4.5)));
  CHECK(mean_equivalent_load(0, 0, 3) == 0);
}

TEST_CASE("loads up to which the life equation is meant to hold") {
  CHECK(greatest_life_load(BearingKind::deep_groove, 20e3, 15e3) == 10e3);
  CHECK(greatest_life_load(BearingKind::deep_groove, 20e3, 8e3) == 8e3);
  CHECK(greatest_life_load(BearingKind::tapered, 20e3, 8e3) == 10e3);
  CHECK(greatest_life_load(BearingKind::deep_groove, 20e3, std::nan("")) == 10e3);
}
