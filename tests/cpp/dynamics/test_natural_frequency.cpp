#include "armwright/dynamics/natural_frequency.hpp"

#include <cmath>
#include <numbers>

#include "catch_shim.hpp"
#include "elastic_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double L = 0.9, two_pi = 2 * std::numbers::pi;
const Beam tube{L, 2e8, 4000, 1e6, 3000, never, never};

struct Shaken {
  std::vector<double> frequency, energy, motion;
};

Shaken shake(const CellSpec& cell, const ElasticSpec& spec, const std::vector<double>& q, std::size_t modes, unsigned threads = 1) {
  const Model model = compile(cell);
  const ElasticChain chain = elastic_chain(cell, model, spec);
  const std::size_t rows = q.size() / model.joint_count;
  Shaken out{std::vector<double>(rows * modes), std::vector<double>(rows * modes * spec.causes.size()), std::vector<double>(rows * modes * 6)};
  CHECK(natural_frequencies(model, chain, model.load, modes, q, out.frequency, out.energy, out.motion, threads, {}));
  return out;
}

ElasticSpec one_tube(double mass, std::size_t pieces) {
  ElasticSpec spec;
  spec.beams = {beam_of(0, {0, 0, 0}, {L, 0, 0}, tube, mass / L)};
  spec.causes = {"link 1"};
  spec.pieces = pieces;
  return spec;
}

double bar(double root, double mass) { return root * root / two_pi * std::sqrt(tube.bending_y / (mass * L * L * L)); }

// (1 + cos x cosh x) = R x (sin x cosh x - cos x sinh x), the exact frequency equation of a cantilever with an end mass R times
// its own (textbook), solved here by halving.
double root_with_end_mass(double ratio) {
  double low = 0.1, high = 1.8752;
  const auto f = [&](double x) { return 1 + std::cos(x) * std::cosh(x) - ratio * x * (std::sin(x) * std::cosh(x) - std::cos(x) * std::sinh(x)); };
  for (int i = 0; i < 80; ++i) (f(0.5 * (low + high)) > 0 ? low : high) = 0.5 * (low + high);
  return low;
}

}  // namespace

TEST_CASE("cantilever by itself: roots 1.8751, 4.6941 (textbook); from above, and nearer with more pieces") {
  const CellSpec cell = cantilever(L, 7, 0);
  const auto two = shake(cell, one_tube(7, 2), {0.3}, 2), eight = shake(cell, one_tube(7, 8), {0.3}, 2);
  CHECK(two.frequency[0] == Approx(bar(1.8751041, 7)).epsilon(6e-4));
  CHECK(two.frequency[1] == Approx(bar(4.6940911, 7)).epsilon(1e-2));
  CHECK(eight.frequency[0] == Approx(bar(1.8751041, 7)).epsilon(2e-5));
  CHECK(eight.frequency[1] == Approx(bar(4.6940911, 7)).epsilon(2e-4));
  for (std::size_t i : {0, 1}) CHECK(eight.frequency[i] < two.frequency[i]);
  CHECK(eight.frequency[0] > bar(1.8751040, 7));
  CHECK(two.energy[0] == Approx(1));
}

TEST_CASE("cantilever with an end mass: the exact frequency equation, and sqrt(3EI/mL³) where the beam weighs nothing") {
  CHECK(root_with_end_mass(1) == Approx(1.2479).epsilon(1e-4));  // the usual tables' value (memory)
  for (const double ratio : {0.2, 1.0, 5.0}) {
    const auto found = shake(cantilever(L, 7, 7 * ratio), one_tube(7, 2), {0}, 1);
    CHECK(found.frequency[0] == Approx(bar(root_with_end_mass(ratio), 7)).epsilon(5e-4));
    // It swings up and down: the tool goes along z and turns about y.
    CHECK(std::fabs(found.motion[2]) > 10 * std::fabs(found.motion[0]));
  }
  const auto light = shake(cantilever(L, 0, 12), one_tube(0, 2), {0}, 1);
  CHECK(light.frequency[0] == Approx(std::sqrt(3 * tube.bending_y / (12 * L * L * L)) / two_pi));
}

TEST_CASE("a rigid arm on a soft stage: sqrt(k/I), and what it carries counts") {
  CellSpec cell = cantilever(L, 7, 12);
  ElasticSpec spec;
  spec.stages = {{0, 1 / 2e4, 0}};
  spec.causes = {"gear"};
  double inertia = 7 * L * L / 3 + 12 * L * L;
  CHECK(shake(cell, spec, {0.3}, 1).frequency[0] == Approx(std::sqrt(2e4 / inertia) / two_pi));
  cell.load = LoadSpec{};
  cell.load->inertia = {5, {0.2, 0, 0}, 0.015, 0.015, 0.03, 0, 0, 0};
  inertia += 5 * (L + 0.2) * (L + 0.2) + 0.03;
  const auto found = shake(cell, spec, {0.3}, 3);
  CHECK(found.frequency[0] == Approx(std::sqrt(2e4 / inertia) / two_pi));
  CHECK(found.frequency[1] == never);  // one spring, one mode
  CHECK(found.energy[1] == 0);
}

TEST_CASE("two springs, two discs on one axis: the closed form of two masses in a row") {
  CellSpec cell = cantilever(L, 0, 0);
  cell.arm.joints.push_back(joint("axis 2", identity_pose, {0, 0, 1}));
  cell.arm.links.push_back(cell.arm.links[0]);
  cell.arm.links[0].inertia = {1, {0, 0, 0}, 0.35, 0.35, 0.7, 0, 0, 0};
  cell.arm.links[1].inertia = {1, {0, 0, 0}, 0.2, 0.2, 0.4, 0, 0, 0};
  ElasticSpec spec;
  spec.stages = {{0, 1 / 900.0, 0}, {1, 1 / 500.0, 1}};
  spec.causes = {"gear 1", "gear 2"};
  // I1 I2 w⁴ - (k1 I2 + k2 I1 + k2 I2) w² + k1 k2 = 0.
  const double a = 0.7 * 0.4, b = 900 * 0.4 + 500 * 0.7 + 500 * 0.4, c = 900.0 * 500;
  const double root = std::sqrt(b * b - 4 * a * c);
  const auto found = shake(cell, spec, {0.2, 0.5}, 2);
  CHECK(found.frequency[0] == Approx(std::sqrt((b - root) / (2 * a)) / two_pi));
  CHECK(found.frequency[1] == Approx(std::sqrt((b + root) / (2 * a)) / two_pi));
  for (std::size_t mode : {0, 1}) CHECK(found.energy[2 * mode] + found.energy[2 * mode + 1] == Approx(1));
  // Share of the first mode by hand: angles t1 and t2 = t1 k2/(k2 - I2 w²); energies k1 t1², k2 (t2 - t1)².
  const double w2 = (b - root) / (2 * a), t2 = 500 / (500 - 0.4 * w2), one = 900, two = 500 * (t2 - 1) * (t2 - 1);
  CHECK(found.energy[0] == Approx(one / (one + two)));
}

TEST_CASE("torsion of a tube with a disc at its end: sqrt(GJ/L I)") {
  CellSpec cell = cantilever(L, 0, 0);
  cell.tool.inertia = {1, {0, 0, 0}, 0.3, 0.15, 0.15, 0, 0, 0};
  ElasticSpec spec = one_tube(0, 1);
  spec.beams[0].beam.bending_y = 1e12, spec.beams[0].beam.along = 1e12;
  CHECK(shake(cell, spec, {0}, 1).frequency[0] == Approx(std::sqrt(tube.torsion / (L * 0.3)) / two_pi));
}

TEST_CASE("the answer does not depend on the number of threads") {
  Draw draw{5};
  CellSpec cell = random_cell(draw, 4);
  ElasticSpec spec = one_tube(3, 2);
  spec.stages = {{0, 1e-4, 0}, {3, 1e-4, 0}};
  std::vector<double> q(4 * 9);
  for (double& value : q) value = draw.uniform(-1, 1);
  const auto a = shake(cell, spec, q, 4, 1), b = shake(cell, spec, q, 4, 3);
  CHECK(a.frequency == b.frequency);
  CHECK(a.energy == b.energy);
  CHECK(a.frequency[0] < a.frequency[1]);
}
