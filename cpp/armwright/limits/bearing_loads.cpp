#include "armwright/limits/bearing_loads.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace armwright {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity(), unknown = std::numeric_limits<double>::quiet_NaN();

Vec3 square_to(const Vec3& axis) {
  const Vec3 least = std::fabs(axis.x) <= std::fabs(axis.y) && std::fabs(axis.x) <= std::fabs(axis.z) ? Vec3{1, 0, 0}
                     : std::fabs(axis.y) <= std::fabs(axis.z)                                         ? Vec3{0, 1, 0}
                                                                                                      : Vec3{0, 0, 1};
  const Vec3 across = cross(axis, least);
  return (1 / norm(across)) * across;
}

BearingLoads loads_of(const RollingBearing& bearing, double radial, double axial, double moment, double tilted) {
  return {radial, axial, moment, equivalent_load(load_factors(bearing, axial), tilted, axial), static_equivalent_load(static_factors(bearing), tilted, axial),
          beyond_table(bearing, axial)};
}

void take_greater(BearingLoads& a, const BearingLoads& b) {
  a.axial = std::max(a.axial, b.axial);
  a.equivalent = std::max(a.equivalent, b.equivalent);
  a.static_equivalent = std::max(a.static_equivalent, b.static_equivalent);
  a.beyond_table = a.beyond_table || b.beyond_table;
}

double over(double rating, double load) { return std::isnan(rating) || std::isnan(load) ? unknown : load > 0 ? rating / load : infinite; }

/// The greatest moment for which `safe(moment)` holds, from one that fails on; `safe` holds below it.
template <class Safe>
double halved(Safe safe, double most) {
  if (!safe(0.0)) return unknown;
  double from = 0, to = most;
  while (safe(to)) {
    if (to > 1e15) return infinite;
    from = to, to *= 2;
  }
  for (int i = 0; i < 60; ++i) {
    const double middle = (from + to) / 2;
    (safe(middle) ? from : to) = middle;
  }
  return from;
}

/// Where a function that bends upwards only is least, from 0 on, to 1e-9 of itself.
template <class Function>
double lowest(Function f) {
  double to = 1;
  while (to < 1e9 && f(to) < f(to / 2)) to *= 2;
  double from = 0;
  for (int i = 0; i < 100 && to - from > 1e-9 * to; ++i) {
    const double third = (to - from) / 3;
    if (f(from + third) <= f(to - third)) to -= third;
    else from += third;
  }
  return (from + to) / 2;
}

/// The greatest place at which such a function is at most 1; NaN where it never is, infinite where it stays so.
template <class Function>
double last_within(Function f) {
  double from = 0;
  if (!(f(0.0) <= 1)) from = lowest(f);
  if (!(f(from) <= 1)) return unknown;
  const double more = halved([&](double way) { return f(from + way) <= 1; }, 1.0);
  return from + more;
}

}  // namespace

BearingDemand bearing_demand(const BearingPlace& place, std::span<const double, 6> w) {
  const Vec3 force{w[0], w[1], w[2]};
  const Vec3 moment = Vec3{w[3], w[4], w[5]} - cross(place.offset * place.axis, force);
  const Vec3 x = square_to(place.axis), y = cross(place.axis, x);
  BearingDemand d;
  d.axial = dot(force, place.axis);
  d.radial_x = dot(force, x), d.radial_y = dot(force, y);
  d.moment_x = dot(moment, x), d.moment_y = dot(moment, y);
  d.radial = std::hypot(d.radial_x, d.radial_y);
  d.moment = std::hypot(d.moment_x, d.moment_y);
  return d;
}

BearingLoads slewing_loads(const SlewingBearing& bearing, const BearingDemand& demand) {
  return loads_of(bearing.rolling, demand.radial, std::fabs(demand.axial), demand.moment, tilted_radial_load(demand.radial, demand.moment, bearing.pitch_diameter));
}

void pair_loads_of(const BearingPair& pair, const BearingDemand& d, std::span<BearingLoads, 2> out) {
  const PairRadial forces = pair_radial(d.radial_x, d.radial_y, d.moment_x, d.moment_y, effective_span(pair));
  const auto one_way = [&](const BearingPair& way, std::span<BearingLoads, 2> found) {
    const PairLoads loads = pair_loads(way, forces, d.axial);
    for (std::size_t i = 0; i < 2; ++i) found[i] = loads_of(pair.bearing[i], loads.radial[i], loads.axial[i], 0, loads.radial[i]);
  };
  one_way(pair, out);
  if (pair.moved_ring != MovedRing::unknown) return;
  BearingPair other_way = pair;
  other_way.moved_ring = MovedRing::outer;
  std::array<BearingLoads, 2> also;
  one_way(other_way, also);
  for (std::size_t i = 0; i < 2; ++i) take_greater(out[i], also[i]);
}

double static_safety(const SlewingBearing& bearing, const BearingDemand& demand) {
  // fmin leaves out what is not told.
  return std::fmin(over(bearing.rolling.static_rating, slewing_loads(bearing, demand).static_equivalent), over(bearing.moment_rating, demand.moment));
}

double static_safety(const BearingPair& pair, const BearingDemand& demand) {
  std::array<BearingLoads, 2> loads;
  pair_loads_of(pair, demand, loads);
  return std::fmin(over(pair.bearing[0].static_rating, loads[0].static_equivalent), over(pair.bearing[1].static_rating, loads[1].static_equivalent));
}

void slewing_rows(const SlewingBearing& bearing, const BearingPlace& place, std::span<const double> wrench, std::span<BearingLoads> out) {
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = slewing_loads(bearing, bearing_demand(place, wrench.subspan(6 * i).first<6>()));
}

void pair_rows(const BearingPair& pair, const BearingPlace& place, std::span<const double> wrench, std::span<BearingLoads> out) {
  for (std::size_t i = 0; 2 * i < out.size(); ++i)
    pair_loads_of(pair, bearing_demand(place, wrench.subspan(6 * i).first<6>()), out.subspan(2 * i).first<2>());
}

double needed_span(const BearingPair& pair, const BearingPlace& place, std::span<const double> wrench, double wanted) {
  const double longer = effective_span(pair) - pair.span;  // by the contact angle; does not depend on the span
  // Load over what is wanted, the worst of the rows, by 1/(distance of the pressure centres).
  const auto share = [&](double inverse) {
    BearingPair at = pair;
    at.span = 1 / std::max(inverse, 1e-12) - longer;
    double worst = 0;
    for (std::size_t i = 0; 6 * i < wrench.size(); ++i) {
      const double safety = static_safety(at, bearing_demand(place, wrench.subspan(6 * i).first<6>()));
      if (std::isnan(safety)) return unknown;
      worst = std::max(worst, wanted / safety);
    }
    return worst;
  };
  const double inverse = last_within(share);
  return std::isnan(inverse) ? infinite : std::max(0.0, 1 / inverse - longer);
}

double greatest_moment(const SlewingBearing& bearing, double radial, double axial, double wanted) {
  BearingDemand d;
  d.radial = radial, d.axial = axial;
  return halved([&](double moment) { return d.moment = moment, static_safety(bearing, d) >= wanted; }, 1.0);
}

double greatest_moment(const BearingPair& pair, double radial, double axial, double wanted) {
  BearingDemand d;
  d.radial = d.radial_x = radial, d.axial = axial;
  const auto safe = [&](double moment) {
    d.moment_y = moment;
    if (!(static_safety(pair, d) >= wanted)) return false;
    d.moment_y = -moment;
    return static_safety(pair, d) >= wanted;
  };
  return halved(safe, 1.0);
}

}  // namespace armwright
