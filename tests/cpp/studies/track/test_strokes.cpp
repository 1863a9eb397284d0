#include "armwright/studies/track/strokes.hpp"

#include <algorithm>
#include <cmath>

#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

using Served = std::vector<std::vector<Stretch>>;

// Every window whose ends are ends of stretches, counted out.
double shortest_by_trying(const Served& served, std::size_t count) {
  std::vector<double> ends;
  for (const auto& stretches : served)
    for (const Stretch& s : stretches) ends.push_back(s.lower), ends.push_back(s.upper);
  double best = std::nan("");
  for (const double a : ends)
    for (const double b : ends) {
      if (b < a) continue;
      const auto hit = std::count_if(served.begin(), served.end(), [&](const auto& stretches) {
        return std::any_of(stretches.begin(), stretches.end(), [&](const Stretch& s) { return s.upper >= a && s.lower <= b; });
      });
      if (hit >= static_cast<long>(count) && !(b - a >= best)) best = b - a;
    }
  return best;
}

// One to eight points of up to three stretches each.
Served drawn(Draw& draw) {
  Served served(static_cast<std::size_t>(draw.uniform(1, 9)));
  for (auto& stretches : served)
    for (int n = static_cast<int>(draw.uniform(0, 3.99)); n > 0; --n) {
      const double lower = draw.uniform(0, 10);
      stretches.push_back({lower, lower + draw.uniform(0, 0.8)});
    }
  return served;
}

}  // namespace

TEST_CASE("strokes of three points side by side") {
  const Served served{{{0, 1}}, {{2, 3}}, {{2.5, 4}, {-1, -0.5}}};
  const auto found = shortest_strokes(served);
  REQUIRE(found.size() == 3);
  CHECK(found[0].length == 0);
  CHECK(found[1].length == 0);  // both of the last two from 2.5 to 3
  CHECK((found[1].lower >= 2.5 && found[1].lower <= 3));
  CHECK(found[2].length == 1.5);
  CHECK(found[2].lower == 1);
}

TEST_CASE("points that cannot be served leave the strokes for more of them open") {
  const auto found = shortest_strokes(Served{{{0, 1}}, {}});
  CHECK(found[0].length == 0);
  CHECK(std::isnan(found[1].length));
  CHECK(std::isnan(found[1].lower));
  CHECK(shortest_strokes(Served{}).empty());
}

TEST_CASE("strokes of any stretches: as short as any that trying finds, and serving as many") {
  Draw draw{5};
  for (int k = 0; k < 200; ++k) {
    const Served served = drawn(draw);
    const auto found = shortest_strokes(served);
    for (std::size_t n = 1; n <= served.size(); ++n) {
      const double wanted = shortest_by_trying(served, n);
      if (std::isnan(wanted)) CHECK(std::isnan(found[n - 1].length));
      else CHECK(found[n - 1].length == Approx(wanted).margin(1e-12));
    }
  }
}

TEST_CASE("a stroke placed: it serves as many as any place tried, in the middle of where it does") {
  Draw draw{6};
  for (int k = 0; k < 200; ++k) {
    const Served served = drawn(draw);
    const double length = k % 4 == 0 ? 0 : draw.uniform(0, 4);
    const auto count = [&](double a) {
      return static_cast<int>(std::count_if(served.begin(), served.end(), [&](const auto& stretches) {
        return std::any_of(stretches.begin(), stretches.end(), [&](const Stretch& s) { return s.upper >= a && s.lower <= a + length; });
      }));
    };
    const Placed found = place_stroke(served, length, -1, 12);
    CHECK(count(found.lower) == found.count);
    CHECK((found.lower >= -1 && found.lower + length <= 12));
    for (int i = 0; i <= 2000; ++i) {
      const double at = -1 + (13 - length) * i / 2000;
      CHECK(count(at) <= found.count);
    }
  }
  const Placed between = place_stroke(Served{{{0, 1}}, {{0.6, 3}}, {{8, 9}}}, 0, -5, 20);
  CHECK(between.count == 2);
  CHECK(between.lower == Approx(0.8));
  CHECK(place_stroke(Served{{}}, 1, 0, 5).lower == Approx(2));
}
