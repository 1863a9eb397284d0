#include "armwright/spatial/signed_sum.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// All 2^m sums.
double by_trying_all(const std::vector<Vec3>& vectors) {
  double longest = 0;
  for (std::size_t signs = 0; signs < std::size_t{1} << vectors.size(); ++signs) {
    Vec3 sum{0, 0, 0};
    for (std::size_t k = 0; k < vectors.size(); ++k) sum = (signs >> k) & 1 ? sum + vectors[k] : sum - vectors[k];
    longest = std::max(longest, norm(sum));
  }
  return longest;
}

SignedSum longest(const std::vector<Vec3>& vectors, std::size_t most_exact = 64) {
  SignedSumWork work;
  return longest_signed_sum(vectors, most_exact, work);
}

// Vectors with small whole components: parallel ones, many in one plane, zeros.
std::vector<Vec3> on_a_grid(Draw& draw, std::size_t count) {
  std::vector<Vec3> vectors(count);
  for (Vec3& v : vectors) v = {std::round(draw.uniform(-1.4, 1.4)), std::round(draw.uniform(-1.4, 1.4)), std::round(draw.uniform(-1.4, 1.4))};
  return vectors;
}

}  // namespace

TEST_CASE("no choice of signs makes a longer sum") {
  Draw draw{1};
  for (std::size_t count = 0; count <= 12; ++count) {
    for (int trial = 0; trial < 40; ++trial) {
      std::vector<Vec3> vectors(count);
      const bool flat = trial % 4 == 3;  // all in one plane
      const Rotation R = turn_about(draw.direction(), 1);
      for (Vec3& v : vectors) v = R * (flat ? Vec3{draw.uniform(-1, 1), draw.uniform(-1, 1), 0} : std::pow(10, draw.uniform(-3, 1)) * draw.direction());
      const double all = by_trying_all(vectors);
      const SignedSum found = longest(vectors);
      CHECK(found.exact);
      CHECK(std::fabs(found.length - all) <= 1e-12 * all);
      CHECK(std::fabs(norm(found.sum) - found.length) <= 1e-12 * all);
    }
  }
}

TEST_CASE("vectors that are parallel, in one plane or nothing are met too") {
  Draw draw{2};
  for (int trial = 0; trial < 300; ++trial) {
    const std::vector<Vec3> vectors = on_a_grid(draw, 1 + static_cast<std::size_t>(trial % 11));
    CHECK(std::fabs(longest(vectors).length - by_trying_all(vectors)) <= 1e-12 * by_trying_all(vectors));
  }
  CHECK(longest({}).length == 0);
  CHECK(longest({{0, 0, 0}}).length == 0);
  CHECK(std::fabs(longest({{0, 3, 0}, {0, -4, 0}}).length - 7) < 1e-14);
  CHECK(std::fabs(longest({{3, 0, 0}, {0, 4, 0}, {0, 0, 12}}).length - 13) < 1e-14);
}

// m unit vectors, the half circle divided by m: the sums fill a regular 2m-gon of side 2, whose corners lie 1 / sin(pi / 2m)
// from its middle (textbook geometry).
TEST_CASE("a fan of vectors sums to the corner of a regular polygon") {
  for (const std::size_t m : {2, 3, 7, 40, 200}) {
    std::vector<Vec3> fan;
    const Rotation R = turn_about({0.6, 0, 0.8}, 0.7);
    for (std::size_t k = 0; k < m; ++k) {
      const double angle = std::numbers::pi * static_cast<double>(k) / static_cast<double>(m);
      fan.push_back(R * Vec3{std::cos(angle), std::sin(angle), 0});
    }
    const double corner = 1 / std::sin(std::numbers::pi / (2 * static_cast<double>(m)));
    CHECK(std::fabs(longest(fan, 300).length - corner) < 1e-12 * corner);
  }
}

TEST_CASE("with many vectors the bound lies above the longest sum, and by little") {
  Draw draw{3};
  for (int trial = 0; trial < 60; ++trial) {
    std::vector<Vec3> vectors(3 + static_cast<std::size_t>(trial) % 40);
    for (Vec3& v : vectors) v = std::pow(10, draw.uniform(-1, 0)) * draw.direction();
    const double exact = longest(vectors).length;
    const SignedSum bound = longest(vectors, 2);
    CHECK(!bound.exact);
    CHECK(bound.length >= exact);
    CHECK(bound.length <= 1.0018 * exact);
    CHECK(norm(bound.sum) <= exact * (1 + 1e-12));
    CHECK(norm(bound.sum) >= 0.998 * exact);
  }
}

TEST_CASE("a batch gives each row's own sum") {
  Draw draw{4};
  const std::size_t rows = 5, count = 7;
  std::vector<double> vectors(rows * count * 3), lengths(rows), sums(3 * rows);
  std::vector<std::uint8_t> exact(rows);
  for (double& x : vectors) x = draw.uniform(-1, 1);
  longest_signed_sums(vectors, count, 64, lengths, sums, exact);
  for (std::size_t row = 0; row < rows; ++row) {
    std::vector<Vec3> own(count);
    for (std::size_t k = 0; k < count; ++k) own[k] = {vectors[3 * (row * count + k)], vectors[3 * (row * count + k) + 1], vectors[3 * (row * count + k) + 2]};
    CHECK(std::fabs(lengths[row] - by_trying_all(own)) < 1e-13);
    CHECK(std::fabs(norm(Vec3{sums[3 * row], sums[3 * row + 1], sums[3 * row + 2]}) - lengths[row]) < 1e-13);
    CHECK(exact[row] == 1);
  }
}
