#include "armwright/elements/separation.hpp"

#include "armwright/elements/stop_distance.hpp"
#include "catch_shim.hpp"

using namespace armwright;

// ISO 13855 as two light-curtain manuals work it out: 290 ms + 30 ms, d = 14 mm: 640 mm, so again with 1600 mm/s: 512 mm;
// 0.165 s, 14 mm: 330 mm.
TEST_CASE("separation distance of a light curtain") {
  CHECK(separation_light_curtain(0.32, 0.014) == Approx(0.512));
  CHECK(separation_light_curtain(0.165, 0.014) == Approx(0.330));
  CHECK(separation_light_curtain(0.25, 0.014) == Approx(0.5));
  CHECK(separation_light_curtain(0.26, 0.014) == Approx(0.5));     // 0.52 fast, 0.416 slow: not below 0.5
  CHECK(separation_light_curtain(0.04, 0.014) == Approx(0.1));     // never below
  CHECK(separation_light_curtain(0.1, 0.030) == Approx(0.328));    // C = 128 mm
  CHECK(separation_light_curtain(0.1, 0.010) == Approx(0.2));      // finer than 14 mm brings nothing nearer
}

TEST_CASE("the other cases (from memory)") {
  CHECK(separation_arm(0.5) == Approx(1.65));
  CHECK(separation_along(0.5, 0) == Approx(2.0));
  CHECK(separation_along(0.5, 1.0) == Approx(1.65));  // 1.2 - 0.4 is below 0.85
  CHECK(coarsest_resolution(0.3) == Approx(0.07));
  CHECK(separation_two_hand(0.2) == Approx(0.57));
  CHECK(separation_guard(0.5, 0.12) == Approx(0.92));
}

TEST_CASE("stop distance, and switches before a hard stop") {
  CHECK(stop_distance(-2, 0.1, 4) == Approx(0.7));
  const StopPlaces places = stop_places(0.05, 0.12, 0.003, 0.01);
  CHECK(places.limit_switch == Approx(0.133));
  CHECK(places.soft_limit == Approx(0.183));
}
