#include "armwright/elements/rolling_bearing.hpp"

#include <cmath>
#include <initializer_list>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

constexpr double degree = 3.14159265358979323846 / 180;
constexpr BearingKind slanted[] = {BearingKind::angular_contact, BearingKind::tapered, BearingKind::four_point, BearingKind::crossed_roller};

RollingBearing of(BearingKind kind, double degrees) {
  RollingBearing bearing;
  bearing.kind = kind, bearing.contact_angle = degrees * degree, bearing.dynamic_rating = 20e3, bearing.static_rating = 15e3;
  return bearing;
}

}  // namespace

// Entries of ISO 281's table of radial ball bearings, from memory.
TEST_CASE("factors of angular contact balls at the table's angles") {
  const auto at = [](double degrees, double relative) { return standard_load_factors(BearingKind::angular_contact, degrees * degree, relative); };
  CHECK(at(40, 0.1).e == Approx(1.14));
  CHECK(at(40, 0.1).x_above == Approx(0.35));
  CHECK(at(40, 0.1).y_above == Approx(0.57));
  CHECK(at(25, 0.1).y_above == Approx(0.87));
  CHECK(at(15, 0.029).e == Approx(0.40));
  CHECK(at(15, 0.029).y_above == Approx(1.40));
  CHECK(at(10, 0.17).y_above == Approx(1.23));
  CHECK(at(10, 0.17).x_above == Approx(0.46));
  CHECK(at(12.5, 0.17).x_above == Approx(0.45));  // straight between
  CHECK(at(17.5, 5.0).y_above == Approx(1.00));
}

TEST_CASE("entered below the first row, beyond the last, and between two") {
  const auto at = [](double relative) { return standard_load_factors(BearingKind::deep_groove, 0, relative); };
  CHECK(at(0).y_above == 2.30);
  CHECK(at(0.014).e == 0.19);
  CHECK(at(0.035).y_above == Approx((1.99 + 1.85) / 2));
  CHECK(at(0.56).y_above == Approx(1.00));
  CHECK(at(7).e == Approx(0.44));
  CHECK(greatest_relative_load(BearingKind::deep_groove, 0) == 0.56);
  CHECK(greatest_relative_load(BearingKind::angular_contact, 12 * degree) == 0.57);
  CHECK(std::isinf(greatest_relative_load(BearingKind::angular_contact, 25 * degree)));
}

// ISO 281:2007's table by f0 Fa/C0, from memory.
TEST_CASE("a bearing whose f0 is told is looked up by it") {
  RollingBearing bearing = of(BearingKind::deep_groove, 0);
  bearing.f0 = 13.8;
  const double axial = 1.38 / 13.8 * bearing.static_rating;
  CHECK(load_factors(bearing, axial).e == Approx(0.30));
  CHECK(load_factors(bearing, axial).y_above == Approx(1.45));
  CHECK(load_factors(bearing, 1.5 * axial).y_above == Approx(1.31));
  CHECK(!beyond_table(bearing, 6.8 / 13.8 * bearing.static_rating));
  CHECK(beyond_table(bearing, 7.0 / 13.8 * bearing.static_rating));
  CHECK(!beyond_table(of(BearingKind::deep_groove, 0), 0.55 * bearing.static_rating));
  CHECK(beyond_table(of(BearingKind::deep_groove, 0), 0.57 * bearing.static_rating));
}

// ISO 281 and ISO 76 give rollers by the angle's tangent: at 45 degrees with two rows X = Y = 0.67, 1 and 0.45, e = 1.5, Y0 = 0.44,
// which makers of crossed roller bearings print; with one row Y = 0.4, Y0 = 0.22.
TEST_CASE("rollers follow the contact angle") {
  const LoadFactors crossed = standard_load_factors(BearingKind::crossed_roller, 45 * degree, 0);
  CHECK(crossed.e == Approx(1.5));
  CHECK(crossed.y_below == Approx(0.45));
  CHECK(crossed.x_above == Approx(0.67));
  CHECK(crossed.y_above == Approx(0.67));
  CHECK(standard_static_factors(BearingKind::crossed_roller, 45 * degree).y == Approx(0.44));
  CHECK(standard_load_factors(BearingKind::tapered, 45 * degree, 0).y_above == Approx(0.4));
  CHECK(standard_static_factors(BearingKind::tapered, std::atan(0.5)).y == Approx(0.44));
}

TEST_CASE("what e separates meets there: the equivalent load does not jump") {
  const double tolerance[] = {0.02, 1e-12, 0.04, 1e-12};  // balls: as far as the table is rounded; 35 to 45 degrees of two rows: 3 %
  for (int k = 0; k < 4; ++k)
    for (double degrees : {20.0, 25.0, 30.0, 35.0, 40.0, 45.0}) {
      const LoadFactors f = standard_load_factors(slanted[k], degrees * degree, 0.1);
      CHECK(f.x_above + f.y_above * f.e == Approx(f.x_below + f.y_below * f.e).epsilon(tolerance[k]));
    }
}

TEST_CASE("equivalent loads take the formula of their side, the static one not less than the radial load") {
  const LoadFactors f = standard_load_factors(BearingKind::deep_groove, 0, 0.056);
  CHECK(equivalent_load(f, 1000, 260) == Approx(1000));
  CHECK(equivalent_load(f, 1000, 500) == Approx(0.56 * 1000 + 1.71 * 500));
  CHECK(equivalent_load({RollingBearing::untold, 1, 0, 0.4, 1.6}, 1000, 100) == 1000);
  CHECK(equivalent_load({RollingBearing::untold, 1, 0, 0.4, 1.6}, 1000, 900) == Approx(1840));
  CHECK(std::isnan(equivalent_load({RollingBearing::untold, 1, 0, RollingBearing::untold, RollingBearing::untold}, 1000, 900)));
  const StaticFactors s = standard_static_factors(BearingKind::deep_groove, 0);
  CHECK(static_equivalent_load(s, 1000, 300) == 1000);
  CHECK(static_equivalent_load(s, 1000, 1000) == Approx(1100));
}

// Of two bearings set against one another one stands at Fa = e Fr by the other's push, and X + Y e is not 1 (ISO 281's X and Y of 30°).
TEST_CASE("at e itself rounding does not choose the formula") {
  const LoadFactors f = standard_load_factors(BearingKind::angular_contact, 30 * degree, 0);
  const double at = 0.8 * 1000;
  for (const double axial : {at, std::nextafter(at, 0.0), std::nextafter(std::nextafter(at, 2 * at), 2 * at)}) CHECK(equivalent_load(f, 1000, axial) == 1000);
  CHECK(equivalent_load(f, 1000, 801) == Approx(390 + 0.76 * 801));
}

TEST_CASE("own factors go before the standard's") {
  RollingBearing bearing = of(BearingKind::angular_contact, 40);
  CHECK(load_factors(bearing, 2000).y_above == Approx(0.57));
  bearing.own = {0.9, 1, 0, 0.4, 0.7};
  bearing.own_static = {0.5, 0.3};
  CHECK(load_factors(bearing, 2000).y_above == 0.7);
  CHECK(static_factors(bearing).y == 0.3);
}

// Fr/(2Y) and e Fr: makers' catalogues, from memory.
TEST_CASE("radial load on slanted contacts pushes along the axis") {
  CHECK(induced_axial_load(of(BearingKind::tapered, 15), 1000) == Approx(1000 / (2 * 0.4 / std::tan(15 * degree))));
  CHECK(induced_axial_load(of(BearingKind::angular_contact, 40), 1000) == Approx(1140));
  CHECK(induced_axial_load(of(BearingKind::angular_contact, 15), 1000) == Approx(560));
  CHECK(induced_axial_load(of(BearingKind::deep_groove, 0), 1000) == 0);
  RollingBearing bearing = of(BearingKind::angular_contact, 40);
  bearing.own = {RollingBearing::untold, 1, 0, 0.35, 0.57};
  CHECK(induced_axial_load(bearing, 1000) == Approx(1000 * 0.65 / 0.57));
}
