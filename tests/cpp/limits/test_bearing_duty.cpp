#include "armwright/limits/bearing_duty.hpp"

#include <cmath>
#include <random>
#include <vector>

#include "armwright/elements/bearing_life.hpp"
#include "catch_shim.hpp"

using namespace armwright;

namespace {

constexpr double degree = 3.14159265358979323846 / 180;

BearingPair tapered_pair(Arrangement arrangement = Arrangement::back_to_back) {
  BearingPair pair;
  for (RollingBearing& b : pair.bearing) b.kind = BearingKind::tapered, b.contact_angle = 14 * degree, b.dynamic_rating = 60e3, b.static_rating = 65e3;
  pair.arrangement = arrangement, pair.span = 0.12, pair.pressure_centre = 0.008;
  return pair;
}

SlewingBearing crossed() {
  SlewingBearing bearing;
  bearing.rolling = {BearingKind::crossed_roller, 45 * degree, 30e3, 45e3};
  bearing.pitch_diameter = 0.1;
  return bearing;
}

std::vector<double> random_wrenches(int rows) {
  std::mt19937 draw(3);
  std::uniform_real_distribution<double> force(-900, 900), moment(-200, 200);
  std::vector<double> wrench;
  for (int i = 0; i < rows; ++i)
    for (int k = 0; k < 6; ++k) wrench.push_back(k < 3 ? force(draw) : moment(draw));
  return wrench;
}

double least_safety(const BearingPair& pair, const BearingPlace& place, const std::vector<double>& wrench) {
  double least = 1e300;
  for (std::size_t i = 0; i < wrench.size(); i += 6) least = std::fmin(least, static_safety(pair, bearing_demand(place, std::span(wrench).subspan(i).first<6>())));
  return least;
}

}  // namespace

TEST_CASE("a bearing takes force and tilting moment about its middle, not what turns about the axis") {
  // 100 N along x at the frame's origin; the bearing stands 0.3 m along y, which is the axis: moment -0.3 y × 100 x = +30 z.
  const std::vector<double> wrench{100, 50, 0, 4, 77, 0};
  const BearingDemand d = bearing_demand({{0, 1, 0}, 0.3}, std::span(wrench).first<6>());
  CHECK(d.axial == 50);
  CHECK(d.radial == Approx(100));
  CHECK(d.moment == Approx(std::hypot(4, 30)));
}

TEST_CASE("loads do not depend on how the frame is turned about the axis") {
  const std::vector<double> w = random_wrenches(1);
  const BearingDemand a = bearing_demand({{0, 0, 1}, 0.1}, std::span(w).first<6>());
  const std::vector<double> turned{-w[1], w[0], w[2], -w[4], w[3], w[5]};
  const BearingDemand b = bearing_demand({{0, 0, 1}, 0.1}, std::span(turned).first<6>());
  BearingLoads left[2], right[2];
  pair_loads_of(tapered_pair(), a, left);
  pair_loads_of(tapered_pair(), b, right);
  for (int i = 0; i < 2; ++i) {
    CHECK(left[i].radial == Approx(right[i].radial));
    CHECK(left[i].equivalent == Approx(right[i].equivalent));
  }
}

TEST_CASE("of a ring that is not known both ways count") {
  const std::vector<double> w = random_wrenches(20);
  for (std::size_t i = 0; i < w.size(); i += 6) {
    const BearingDemand d = bearing_demand({{0, 0, 1}, 0}, std::span(w).subspan(i).first<6>());
    BearingPair pair = tapered_pair();
    BearingLoads unknown[2], inner[2], outer[2];
    pair_loads_of(pair, d, unknown);
    pair.moved_ring = MovedRing::inner;
    pair_loads_of(pair, d, inner);
    pair.moved_ring = MovedRing::outer;
    pair_loads_of(pair, d, outer);
    for (int k = 0; k < 2; ++k) {
      CHECK(unknown[k].equivalent == std::max(inner[k].equivalent, outer[k].equivalent));
      CHECK(unknown[k].static_equivalent == std::max(inner[k].static_equivalent, outer[k].static_equivalent));
    }
  }
}

TEST_CASE("at the span needed the safety is the one wanted, and rises with the span") {
  const std::vector<double> wrench = random_wrenches(50);
  const BearingPlace place{{0, 0.6, 0.8}, 0.02};
  for (const Arrangement arrangement : {Arrangement::back_to_back, Arrangement::face_to_face}) {
    BearingPair pair = tapered_pair(arrangement);
    pair.span = needed_span(pair, place, wrench, 12);
    REQUIRE(pair.span > 0.01);
    CHECK(least_safety(pair, place, wrench) == Approx(12).epsilon(1e-6));
    double before = 12;
    for (const double longer : {1.1, 1.5, 3.0}) {
      BearingPair wider = pair;
      wider.span *= longer;
      const double safety = least_safety(wider, place, wrench);
      CHECK(safety > before);
      before = safety;
    }
  }
  CHECK(std::isinf(needed_span(tapered_pair(), place, wrench, 1e4)));
}

// By hand: the far bearing takes |3000 - 400/s| N of 6000 N and -400 N m, the near one 3000 + 400/s; 2000 N of the far one's rating hold from
// s = 400/5000 to 400/1000 m, so that no longer span would do.
TEST_CASE("a span serves where a moment relieves the weaker bearing, though the longest does not") {
  BearingPair pair;
  pair.arrangement = Arrangement::fixed_near;
  pair.span = 0.2;
  for (RollingBearing& one : pair.bearing) one.kind = BearingKind::deep_groove;
  pair.bearing[0].static_rating = 50e3, pair.bearing[1].static_rating = 2e3;
  const std::vector<double> wrench{6000, 0, 0, 0, -400, 0};
  const BearingPlace place{{0, 0, 1}, 0};
  CHECK(needed_span(pair, place, wrench, 1) == Approx(0.08));
  pair.bearing[0].static_rating = 3000 + 400 / 0.4 + 1;  // holds from a little below 0.4 m on
  CHECK(needed_span(pair, place, wrench, 1) == Approx(400 / 1001.0));
  pair.bearing[0].static_rating = 3000 + 400 / 0.4 - 1;
  CHECK(std::isinf(needed_span(pair, place, wrench, 1)));
}

TEST_CASE("at the greatest moment the safety is the one wanted") {
  BearingDemand d;
  d.radial = d.radial_x = 500, d.axial = -800;
  const SlewingBearing slewing = crossed();
  d.moment = greatest_moment(slewing, 500, -800, 3);
  CHECK(static_safety(slewing, d) == Approx(3));
  CHECK(d.moment == Approx((45e3 / 3 - 0.44 * 800 - 500) * 0.1 / 2));
  for (const std::size_t weaker : {0u, 1u}) {
    BearingPair pair = tapered_pair();
    pair.bearing[weaker].static_rating /= 2;
    const double moment = greatest_moment(pair, 500, -800, 3);
    d.moment_y = moment;
    const double one_way = static_safety(pair, d);
    d.moment_y = -moment;
    const double other_way = static_safety(pair, d);
    CHECK(std::min(one_way, other_way) == Approx(3));
    CHECK(std::max(one_way, other_way) > 3.01);
  }
  CHECK(std::isnan(greatest_moment(slewing, 500, 200e3, 3)));
}

TEST_CASE("a moment rating counts beside the static load, and a rating that is not told leaves nothing to say") {
  SlewingBearing bearing = crossed();
  BearingDemand d;
  d.moment = 100;
  CHECK(static_safety(bearing, d) == Approx(45e3 / 2000));
  bearing.moment_rating = 400;
  CHECK(static_safety(bearing, d) == Approx(4));
  bearing.moment_rating = bearing.rolling.static_rating = std::nan("");
  CHECK(std::isnan(static_safety(bearing, d)));
  bearing = crossed();
  bearing.rolling.contact_angle = std::nan("");
  d.axial = 10;
  CHECK(std::isnan(slewing_loads(bearing, d).equivalent));
}

TEST_CASE("what is not known leaves the loads unknown, not small") {
  BearingPair pair = tapered_pair();
  for (RollingBearing& b : pair.bearing) b.kind = BearingKind::angular_contact, b.contact_angle = std::nan("");
  const std::vector<double> w = random_wrenches(5);
  for (const bool own_static : {false, true}) {
    if (own_static)
      for (RollingBearing& b : pair.bearing) b.own_static = {0.5, 0.26};
    for (std::size_t i = 0; i < w.size(); i += 6) {
      const BearingDemand d = bearing_demand({{0, 0, 1}, 0}, std::span(w).subspan(i).first<6>());
      BearingLoads loads[2];
      pair_loads_of(pair, d, loads);
      for (const BearingLoads& at : loads) {
        CHECK(std::isnan(at.axial));
        CHECK(std::isnan(at.equivalent));
        CHECK(std::isnan(at.static_equivalent));
      }
      CHECK(std::isnan(static_safety(pair, d)));
    }
  }
}

TEST_CASE("only what lasts and turns wears a bearing") {
  std::vector<BearingLoads> loads(8);
  for (std::size_t i = 0; i < 8; ++i) loads[i].equivalent = i % 2 == 0 ? 1000.0 * static_cast<double>(i / 2 + 1) : 7.0;  // 1000 2000 3000 4000 of the first
  const std::vector<double> angle{0, 1, -0.5, 9}, speed{2, -1, 0, 50}, duty{0.5, 2, 4, 0};
  const BearingDuty sum = bearing_duty(loads, 0, 2, angle, speed, duty, 3);
  CHECK(sum.time == 6.5);
  CHECK(sum.turned == 3);
  CHECK(sum.wear == Approx(1 * 1e9 + 2 * 8e9));
  CHECK(mean_equivalent_load(sum.wear, sum.turned, 3) == Approx(std::cbrt(17e9 / 3)));
  CHECK(sum.greatest_equivalent == 2000);
  CHECK(sum.greatest_speed == 2);
  CHECK(sum.least_angle == -0.5);
  CHECK(sum.greatest_angle == 1);
  CHECK(bearing_duty(loads, 1, 2, angle, speed, duty, 3).wear == Approx(3 * 343));
}
