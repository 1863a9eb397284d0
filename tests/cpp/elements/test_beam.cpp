#include "armwright/elements/beam.hpp"

#include <limits>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

constexpr double none = std::numeric_limits<double>::infinity();
const Beam slender{0.8, 3e6, 5000, 8000, 2500, none, none};

}  // namespace

TEST_CASE("a cantilever's end by textbook closed forms") {
  const double L = slender.length;
  const SixBySix C = beam_compliance(slender);
  CHECK(C[0] == Approx(L / slender.along));
  CHECK(C[1 * 6 + 1] == Approx(L * L * L / (3 * slender.bending_z)));  // a force along y bends about z
  CHECK(C[2 * 6 + 2] == Approx(L * L * L / (3 * slender.bending_y)));
  CHECK(C[3 * 6 + 3] == Approx(L / slender.torsion));
  CHECK(C[4 * 6 + 4] == Approx(L / slender.bending_y));
  CHECK(C[5 * 6 + 1] == Approx(L * L / (2 * slender.bending_z)));   // pushed along +y it turns about +z
  CHECK(C[4 * 6 + 2] == Approx(-L * L / (2 * slender.bending_y)));  // pushed along +z it turns about -y
  for (std::size_t i = 0; i < 6; ++i)
    for (std::size_t j = 0; j < 6; ++j) CHECK(C[i * 6 + j] == C[j * 6 + i]);
}

TEST_CASE("shear makes a beam softer by F L / G A across, and nowhere else") {
  Beam stocky = slender;
  stocky.shear_y = 4e5, stocky.shear_z = 2e5;
  const SixBySix C = beam_compliance(stocky), plain = beam_compliance(slender);
  for (std::size_t k = 0; k < 36; ++k) {
    const double more = k == 7 ? stocky.length / stocky.shear_y : k == 14 ? stocky.length / stocky.shear_z : 0;
    CHECK(C[k] - plain[k] == Approx(more).margin(1e-18));
  }
}

TEST_CASE("two cantilevers end to end are one of both lengths") {
  Beam half = slender;
  half.shear_y = 4e5, half.shear_z = 2e5;
  Beam whole = half;
  half.length /= 2;
  const SixBySix C = beam_compliance(half), wanted = beam_compliance(whole);
  // The near half is loaded by the force and by its moment over the far half's length; the far half rides on the near one.
  const double l = half.length;
  const double shift = C[7] + 2 * C[11] * l + C[35] * l * l + C[7], turn = C[11] + C[35] * l + C[11];
  CHECK(shift == Approx(wanted[7]));
  CHECK(turn == Approx(wanted[11]));
}

TEST_CASE("the shape of a beam between its ends") {
  const SixBySix near = beam_shape(slender, 0), far = beam_shape(slender, 1), mid = beam_shape(slender, 0.5);
  for (std::size_t i = 0; i < 6; ++i)
    for (std::size_t j = 0; j < 6; ++j) {
      CHECK(near[i * 6 + j] == Approx(0).margin(1e-15));
      CHECK(far[i * 6 + j] == Approx(i == j ? 1 : 0).margin(1e-12));
    }
  // Hermite's cubics (textbook): 3 s² - 2 s³ and L (s³ - s²), at the middle 1/2 and -L/8; slopes 3/2L and -1/4.
  const double L = slender.length;
  CHECK(mid[7] == Approx(0.5));
  CHECK(mid[11] == Approx(-L / 8));
  CHECK(mid[31] == Approx(1.5 / L));
  CHECK(mid[35] == Approx(-0.25));
  CHECK(mid[16] == Approx(L / 8));  // z and y: the other way round
  CHECK(mid[26] == Approx(-1.5 / L));
  CHECK(mid[0] == Approx(0.5));
  CHECK(mid[21] == Approx(0.5));
}

TEST_CASE("a beam that is rigid in one plane bends in the other alone") {
  Beam half = slender;
  half.bending_y = none;
  const SixBySix C = beam_compliance(half), mid = beam_shape(half, 0.5);
  for (std::size_t k : {14, 16, 26, 28}) {
    CHECK(C[k] == 0);
    CHECK(mid[k] == 0);
  }
  CHECK(C[7] > 0);
  CHECK(mid[7] == Approx(0.5));
}

TEST_CASE("a compliance's root squares to it, also where a direction is rigid") {
  Beam beam = slender;
  beam.shear_y = 1e5;
  SixBySix C = beam_compliance(beam);
  for (std::size_t k : {0, 21}) C[k] = 0;  // neither stretches nor twists
  const SixBySix B = root_of(C);
  for (std::size_t i = 0; i < 6; ++i)
    for (std::size_t j = 0; j < 6; ++j) {
      double sum = 0;
      for (std::size_t k = 0; k < 6; ++k) sum += B[i * 6 + k] * B[j * 6 + k];
      CHECK(sum == Approx(C[i * 6 + j]).margin(1e-16));
    }
}
