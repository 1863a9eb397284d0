#include "armwright/elements/rail_beam.hpp"

#include <array>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

constexpr double EI = 4200, L = 0.8;

RailInfluence one_load(int spans, double at) { return rail_influence({EI, L, spans, false}, std::array{at}); }

}  // namespace

// Beam tables (from memory): centre P L³/48 E I and P L/4; at a quarter 3 P L³/256 E I and 3 P L/16.
TEST_CASE("simple beam") {
  CHECK(one_load(1, L / 2).deflection(0, 0) == Approx(L * L * L / (48 * EI)));
  CHECK(one_load(1, L / 2).moment(0, 0) == Approx(L / 4));
  CHECK(one_load(1, L / 4).deflection(0, 0) == Approx(3 * L * L * L / (256 * EI)));
  CHECK(one_load(1, L / 4).moment(0, 0) == Approx(3 * L / 16));
  CHECK(one_load(1, 0).deflection(0, 0) == Approx(0).margin(1e-15));
  CHECK(one_load(1, -0.1).deflection(0, 0) == 0);
  CHECK(one_load(1, L + 0.1).moment(0, 0) == 0);
}

// Continuous beam tables (from memory): two equal spans, load amid one: 13/64 P L under it, −3/32 P L over the support; deflection
// there (1/48 − 3/512) P L³/E I.
TEST_CASE("two spans") {
  const RailInfluence bent = one_load(2, L / 2);
  CHECK(bent.moment(0, 0) == Approx(13 * L / 64));
  CHECK(bent.moment(2, 0) == Approx(-3 * L / 32));
  CHECK(bent.deflection(0, 0) == Approx((1.0 / 48 - 3.0 / 512) * L * L * L / EI));
}

// Very many spans: moments fall by 2 − √3 from support to support, so that 5 M − (2 − √3) M = −3/8 P L beside the loaded span.
TEST_CASE("many spans, loaded amid the middle one") {
  const double support = -0.375 / (5 - (2 - std::sqrt(3.0)));
  const RailInfluence bent = one_load(21, 10.5 * L);
  CHECK(bent.moment(1 + 10, 0) == Approx(support * L));
  CHECK(bent.moment(1 + 11, 0) == Approx(support * L));
  CHECK(bent.moment(1 + 12, 0) == Approx(-support * L * (2 - std::sqrt(3.0))));
  CHECK(bent.moment(0, 0) == Approx((0.25 + support) * L));
}

// Beam tables (from memory): built in at both ends, load amid: P L³/192 E I, P L/8 there and −P L/8 at the ends; at a: ends −P a b²/L², −P a² b/L².
TEST_CASE("a span built in at both ends") {
  const RailInfluence bent = rail_influence({EI, L, 1, true}, std::array{L / 2, L / 4});
  CHECK(bent.deflection(0, 0) == Approx(L * L * L / (192 * EI)));
  CHECK(bent.moment(0, 0) == Approx(L / 8));
  CHECK(bent.moment(2, 0) == Approx(-L / 8));
  CHECK(bent.moment(2, 1) == Approx(-L / 4 * 9 / 16));
  CHECK(bent.moment(3, 1) == Approx(-L / 16 * 3 / 4));
  CHECK(bent.deflection(1, 1) == Approx(std::pow(0.25 * 0.75, 3) * L * L * L / (3 * EI)));  // P a³ b³ / (3 E I L³)
}

TEST_CASE("loads bend each other's place alike (Maxwell), and lie still over a support") {
  const RailInfluence bent = rail_influence({EI, L, 4, false}, std::array{0.3 * L, 0.9 * L, 2.4 * L, 3.0 * L});
  for (int i = 0; i < 4; ++i) {
    CHECK(std::fabs(bent.deflection(3, i)) < 1e-15);
    for (int j = 0; j < i; ++j) CHECK(bent.deflection(i, j) == Approx(bent.deflection(j, i)).margin(1e-15));
  }
  CHECK(bent.deflection(2, 0) > 0);   // two spans further it bends the same way,
  CHECK(rail_influence({EI, L, 4, false}, std::array{0.3 * L, 1.5 * L}).deflection(1, 0) < 0);  // in the next the other way
}
