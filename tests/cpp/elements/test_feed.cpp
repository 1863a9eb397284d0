#include "armwright/elements/feed.hpp"

#include "catch_shim.hpp"

using namespace armwright;

namespace {
constexpr double degree = 3.141592653589793 / 180;
}

// Helical teeth, textbook: W_r = W_t tan φ_n / cos ψ, W_a = W_t tan ψ; 1000 N, 20°, 19.5283° (tables give 386 and 355 N).
TEST_CASE("forces of a rack") {
  const RackForces straight = rack_forces(-1000, 20 * degree, 0);
  CHECK(straight.tangential == Approx(1000));
  CHECK(straight.radial == Approx(363.970).epsilon(1e-6));
  CHECK(straight.axial == 0);
  CHECK(straight.resultant == Approx(1000 / std::cos(20 * degree)));
  const RackForces helical = rack_forces(1000, 20 * degree, 19.5283 * degree);
  CHECK(helical.radial == Approx(386.2).epsilon(1e-3));
  CHECK(helical.axial == Approx(354.7).epsilon(1e-3));
  CHECK(pinion_diameter(0.002, 20, 0) == Approx(0.04));
  CHECK(pinion_diameter(0.002, 20, 19.5283 * degree) == Approx(0.0424413).epsilon(1e-5));  // m z π/ (π cos β): a rack of 13 1/3 π mm
  CHECK(pinion_bending(straight, 0.04, 0.03) == Approx(0.03 * 1000 / std::cos(20 * degree)));
  CHECK(pinion_bending(helical, 0.0424413, 0.03) == Approx(std::hypot(30, 386.2 * 0.03 + 354.7 * 0.0424413 / 2)).epsilon(1e-3));
}

// Two springs in line between fixed ends, pulled at the joint: by hand, 3 to 1.
TEST_CASE("strands of a belt") {
  const BeltTensions pulled = belt_tensions(400, 1000, 0.25);
  CHECK(pulled.tight == Approx(1300));
  CHECK(pulled.slack == Approx(900));
  CHECK(belt_tensions(-400, 1000, 0).tight == Approx(1400));
  CHECK(belt_tensions(400, 300, 1).slack == Approx(-100));
}

// Euler's cases and the frequency equations of beams (textbook): the factors are roots of tan x = x, cos cosh = −1, tan = tanh, cos cosh = 1.
TEST_CASE("factors of the screw's ends are the roots of their equations") {
  const double x = std::sqrt(buckling_factor(ScrewEnds::fixed_supported)) * 3.141592653589793;
  CHECK(std::tan(x) == Approx(x).epsilon(1e-5));
  const double cantilever = whirling_root(ScrewEnds::fixed_free), propped = whirling_root(ScrewEnds::fixed_supported), built_in = whirling_root(ScrewEnds::fixed_fixed);
  CHECK(std::cos(cantilever) * std::cosh(cantilever) == Approx(-1).epsilon(1e-5));
  CHECK(std::tan(propped) == Approx(std::tanh(propped)).epsilon(1e-5));
  CHECK(std::cos(built_in) * std::cosh(built_in) == Approx(1).margin(1e-4));
  CHECK(buckling_factor(ScrewEnds::fixed_free) / buckling_factor(ScrewEnds::supported_supported) == Approx(0.25));
}

// 20 mm root, 1 m, steel. Makers of ball screws give P = m d⁴/L² · 10⁴ N and n = f d/L² · 10⁷ min⁻¹ with d, L in mm: m 5.1 (half of what buckles)
// and f 9.7 (0.8 of what whirls) for hinged ends, 10.2 and 15.1 fixed and hinged, 20.3 and 21.9 fixed, 1.3 and 3.4 free (from memory). Their m is
// of 210 GPa, with 2 in the place of 2.0457; their f is of 206 GPa and 7850 kg/m³.
TEST_CASE("buckling and whirling as makers of screws give them") {
  const auto check = [](ScrewEnds ends, double m, double f) {
    CHECK(0.5 * buckling_force(0.02, 1.0, 210e9, ends) / (std::pow(20, 4) / 1e6 * 1e4) == Approx(m).epsilon(0.025));
    CHECK(0.8 * whirling_speed(0.02, 1.0, 206e9, 7850, ends) * 60 / (2 * 3.141592653589793) / (20 / 1e6 * 1e7) == Approx(f).margin(0.1));
  };
  check(ScrewEnds::fixed_free, 1.3, 3.4);
  check(ScrewEnds::supported_supported, 5.1, 9.7);
  check(ScrewEnds::fixed_supported, 10.2, 15.1);
  check(ScrewEnds::fixed_fixed, 20.3, 21.9);
  CHECK(slenderness(0.02, 1.0, ScrewEnds::fixed_fixed) == Approx(100));
  CHECK(euler_holds_from(206e9, 206e6) == Approx(99.346).epsilon(1e-4));
}
