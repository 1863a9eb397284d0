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
}

// Johnson's parabola touches Euler's curve at half the yield strength (textbook), so that both give A σ/2 at λ = π √(2 E/σ).
TEST_CASE("short screws crush rather than buckle") {
  const double d = 0.02, modulus = 210e9, yield = 235e6, crushing = 3.141592653589793 / 4 * d * d * yield;
  const double meets = 3.141592653589793 * std::sqrt(2 * modulus / yield) * d / 4;
  const auto hinged = ScrewEnds::supported_supported;
  CHECK(strut_force(d, meets * 1.2, modulus, yield, hinged) == Approx(buckling_force(d, meets * 1.2, modulus, hinged)));
  CHECK(strut_force(d, meets * (1 + 1e-9), modulus, yield, hinged) == Approx(crushing / 2));
  CHECK(strut_force(d, meets * (1 - 1e-9), modulus, yield, hinged) == Approx(crushing / 2));
  CHECK(strut_force(d, meets * 0.8, modulus, yield, hinged) == Approx(crushing * (1 - 0.5 * 0.64)));
  CHECK(strut_force(d, 1e-6, modulus, yield, hinged) == Approx(crushing));
  CHECK(strut_force(d, meets / 2, modulus, yield, hinged) == Approx(crushing * (1 - 0.5 / 4)));
}

// Shigley's example 14-1 (from memory): 16 teeth, diametral pitch 8 (module 3.175 mm), face 1.5 in, Y = 0.296; 365 lbf at 8.22 kpsi with its speed
// factor of 1.52 left out: W = F Y σ / (K P) = 1.5 · 0.296 · 10 kpsi / 8 = 555 lbf before K.
TEST_CASE("stress at the foot of a tooth, by Lewis") {
  CHECK(lewis_factor(16) == Approx(0.296));
  CHECK(lewis_factor(20) == Approx(0.322));
  CHECK(lewis_factor(25) == Approx((0.337 + 0.346) / 2));
  CHECK(std::isnan(lewis_factor(11.9)));
  CHECK(lewis_factor(1e12) == Approx(0.485));
  CHECK(tooth_foot_stress(555 * 4.4482216, 1.5 * 0.0254, 0.0254 / 8, 16, 0) == Approx(10e3 * 6894.757).epsilon(1e-3));
  CHECK(tooth_foot_stress(-1000, 0.02, 0.002, 20, 30 * degree) == Approx(1000 / (0.02 * 0.002 * lewis_factor(20 / std::pow(std::cos(30 * degree), 3)))));
}

// Two equal strands of L/2: each c/(L/2).
TEST_CASE("a belt gives most amid its loop") { CHECK(belt_stiffness(50e3, 4) == Approx(2 * 50e3 / 2)); }
