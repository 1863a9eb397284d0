#include "armwright/elements/bearing_pair.hpp"

#include <cmath>
#include <initializer_list>
#include <string>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

constexpr double pi = 3.14159265358979323846, degree = pi / 180;

BearingPair pair_of(BearingKind kind, double degrees, Arrangement arrangement) {
  BearingPair pair;
  for (RollingBearing& b : pair.bearing) b.kind = kind, b.contact_angle = degrees * degree, b.dynamic_rating = 30e3, b.static_rating = 25e3;
  pair.arrangement = arrangement, pair.span = 0.2, pair.pressure_centre = degrees > 0 ? 0.025 : 0, pair.moved_ring = MovedRing::inner;
  return pair;
}

}  // namespace

// Levers: a shaft on two bearings 0.2 m apart, pulled by 1000 N square to it, 0.3 m beyond the far one, so 0.4 m from the middle.
TEST_CASE("an overhung pull is taken by levers") {
  // The bearings' force is -pull = 1000 at z = 0.4: moment about the middle (0, 0, z) × (1000, 0, 0) = (0, 400, 0).
  const PairRadial r = pair_radial(1000, 0, 0, 400, 0.2);
  CHECK(r.x[1] == Approx(1000 * 0.5 / 0.2));
  CHECK(r.x[0] == Approx(-1000 * 0.3 / 0.2));
  CHECK(r.y[0] == 0);
  const PairRadial s = pair_radial(0, 1000, -400, 0, 0.2);
  CHECK(s.y[1] == Approx(2500));
  CHECK(s.y[0] == Approx(-1500));
}

TEST_CASE("any force and moment is in balance with the two reactions") {
  for (double fx : {-300.0, 0.0, 700.0})
    for (double mx : {-50.0, 20.0})
      for (double my : {-10.0, 80.0}) {
        const double span = 0.17, fy = 120;
        const PairRadial r = pair_radial(fx, fy, mx, my, span);
        CHECK(r.x[0] + r.x[1] == Approx(fx).margin(1e-12));
        CHECK(r.y[0] + r.y[1] == Approx(fy));
        CHECK(-span / 2 * (r.y[1] - r.y[0]) == Approx(mx));  // z × Fy
        CHECK(span / 2 * (r.x[1] - r.x[0]) == Approx(my));
      }
}

TEST_CASE("pressure centres lengthen a pair back to back and shorten it face to face") {
  const double each = 0.025;
  CHECK(effective_span(pair_of(BearingKind::angular_contact, 40, Arrangement::back_to_back)) == Approx(0.2 + 2 * each));
  CHECK(effective_span(pair_of(BearingKind::angular_contact, 40, Arrangement::face_to_face)) == Approx(0.2 - 2 * each));
  CHECK(effective_span(pair_of(BearingKind::deep_groove, 0, Arrangement::fixed_far)) == 0.2);
}

// The cases that makers' catalogues tell apart for two tapered or angular contact bearings set against one another, from memory:
// the external force Ka presses B. SA >= SB: FaA = SA, FaB = SA + Ka. SA < SB and Ka >= SB - SA: the same. Else FaB = SB, FaA = SB - Ka.
TEST_CASE("two bearings set against one another share an axial force") {
  const auto check = [](double sa, double sb, double ka, double fa_a, double fa_b) {
    const PairAxial shared = pair_axial(sb, sa, ka, 0, 0.5);
    CHECK(shared.other == Approx(fa_a));
    CHECK(shared.pressed == Approx(fa_b));
  };
  check(500, 300, 200, 500, 700);
  check(300, 500, 400, 300, 700);
  check(300, 500, 200, 300, 500);
  check(300, 500, 100, 400, 500);
  check(300, 500, 0, 500, 500);
}

// Preload without radial load: F0 + 2/3 Ka and F0 - 1/3 Ka for balls until 3 F0, F0 +- Ka/2 for rollers until 2 F0; then all on one (makers'
// catalogues, from memory).
TEST_CASE("preload eases the bearing that is not pressed until it is free") {
  const PairAxial ball = pair_axial(0, 0, 300, 900, 1.0 / 3);
  CHECK(ball.pressed == Approx(900 + 200));
  CHECK(ball.other == Approx(900 - 100));
  CHECK(pair_axial(0, 0, 2700, 900, 1.0 / 3).other == Approx(0).margin(1e-9));
  CHECK(pair_axial(0, 0, 5000, 900, 1.0 / 3).pressed == Approx(5000));
  CHECK(pair_axial(0, 0, 800, 900, 0.5).pressed == Approx(1300));
  CHECK(pair_axial(0, 0, 1800, 900, 0.5).other == Approx(0).margin(1e-9));
  CHECK(pair_axial(1200, 400, 0, 900, 0.5).other == Approx(1200));  // the radial loads push harder than the preload
}

// Which bearing an axial force presses follows from where the shoulders are: drawn by hand.
TEST_CASE("the arrangement and the ring that moves decide which bearing is pressed") {
  const PairRadial none{{0, 0}, {0, 0}};
  const auto pressed = [&](Arrangement arrangement, MovedRing ring, double axial) {
    BearingPair pair = pair_of(BearingKind::angular_contact, 40, arrangement);
    pair.moved_ring = ring;
    const PairLoads loads = pair_loads(pair, none, axial);
    CHECK(loads.axial[0] + loads.axial[1] == Approx(1000));
    return loads.axial[1] > loads.axial[0] ? "far" : "near";
  };
  using enum Arrangement;
  CHECK(pressed(back_to_back, MovedRing::inner, 1000) == std::string("far"));
  CHECK(pressed(back_to_back, MovedRing::inner, -1000) == std::string("near"));
  CHECK(pressed(back_to_back, MovedRing::outer, 1000) == std::string("near"));
  CHECK(pressed(face_to_face, MovedRing::inner, 1000) == std::string("near"));
  CHECK(pressed(face_to_face, MovedRing::outer, 1000) == std::string("far"));
  CHECK(pressed(fixed_near, MovedRing::inner, 1000) == std::string("near"));
  CHECK(pressed(fixed_far, MovedRing::inner, -1000) == std::string("far"));
}

TEST_CASE("a tilting moment loads both bearings alike, along the axis too") {
  const BearingPair pair = pair_of(BearingKind::tapered, 15, Arrangement::back_to_back);
  const PairLoads loads = pair_loads(pair, pair_radial(0, 0, 500, 0, effective_span(pair)), 0);
  CHECK(loads.radial[0] == Approx(500 / effective_span(pair)));
  CHECK(loads.radial[1] == Approx(loads.radial[0]));
  CHECK(loads.axial[0] == Approx(induced_axial_load(pair.bearing[0], loads.radial[0])));
  CHECK(loads.axial[1] == Approx(loads.axial[0]));
}
