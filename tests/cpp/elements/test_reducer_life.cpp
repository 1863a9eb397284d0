#include "armwright/elements/reducer_life.hpp"

#include "catch_shim.hpp"

using namespace armwright;

namespace {

constexpr double rpm = 6.283185307179586 / 60;

}  // namespace

// The selection example that makers of strain wave reducers print: 400 N m 0.3 s 7 rpm, 320 N m 3 s 14 rpm, 200 N m 0.4 s 7 rpm,
// pause 0.2 s; printed 319 N m and 12 rpm (from memory).
TEST_CASE("strain wave reducer: mean cubed torque, mean speed, life, momentary peaks") {
  const double wear = wear_integral(400, 400, 7 * rpm, 7 * rpm, 3, 0.3) + wear_integral(320, 320, 14 * rpm, 14 * rpm, 3, 3) +
                      wear_integral(200, 200, 7 * rpm, 7 * rpm, 3, 0.4);
  const double turned = (7 * 0.3 + 14 * 3 + 7 * 0.4) * rpm, mean = turned / 3.9;
  CHECK(mean_powered_torque(wear, turned, 3) == Approx(319.7386).epsilon(1e-6));
  CHECK(mean / rpm == Approx(12.0256).epsilon(1e-5));
  const double life = reducer_life(35000 * 3600.0, 2000 * rpm, 500, 120 * mean, 319.7386, 3);
  CHECK(life / 3600 == Approx(35000 * (2000 / (120 * 12.0256)) * std::pow(500 / 319.7386, 3)).epsilon(1e-5));
  CHECK(momentary_peaks(14 * 120 * rpm, 0.15) == Approx(1190.476).epsilon(1e-6));
  CHECK(std::isinf(reducer_life(1, 1, 1, 0, 5, 3)));
  CHECK(std::isinf(momentary_peaks(0, 1)));
}

// A cycloidal reducer's example: 2500 N m 0.2 s 10 rpm, 500 N m 0.5 s 20 rpm, 1500 N m 0.2 s 10 rpm: printed 1475 N m (from memory).
TEST_CASE("cycloidal reducer: mean torque with the exponent of roller bearings") {
  const double p = 10.0 / 3;
  const double wear = wear_integral(2500, 2500, 10, 10, p, 0.2) + wear_integral(500, 500, 20, 20, p, 0.5) + wear_integral(1500, 1500, 10, 10, p, 0.2);
  CHECK(mean_powered_torque(wear, 14, p) == Approx(1474.921).epsilon(1e-6));
  CHECK(14 / 0.9 == Approx(15.5556).epsilon(1e-5));
}

TEST_CASE("wear of torque and speed that change") {
  // speed 1, torque -1 to 1: 2 ∫ t³ dt over half = 1/4;  speed 0 to 2, torque 0 to 1: ∫ 2t·t³ = 2/5
  CHECK(wear_integral(-1, 1, 1, 1, 3, 1) == Approx(0.25));
  CHECK(wear_integral(0, 1, 0, 2, 3, 1) == Approx(0.4));
  CHECK(wear_integral(0, 1, 1, 1, 10.0 / 3, 1) == Approx(3.0 / 13).epsilon(1e-3));
}
