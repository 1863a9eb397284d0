#include "armwright/elements/bearing_life.hpp"

#include <cmath>
#include <limits>

namespace armwright {

double reliability_factor(double reliability) { return 0.95 * std::pow(std::log(reliability) / std::log(0.9), 2.0 / 3) + 0.05; }

double rating_life(double dynamic_rating, double equivalent_load, double exponent) {
  if (equivalent_load <= 0) return std::numeric_limits<double>::infinity();
  return std::pow(dynamic_rating / equivalent_load, exponent) * 1e6;
}

double needed_rating(double equivalent_load, double revolutions, double exponent, double factor) {
  return equivalent_load * std::pow(revolutions / (factor * 1e6), 1 / exponent);
}

double mean_equivalent_load(double wear, double turned, double exponent) { return turned > 0 ? std::pow(wear / turned, 1 / exponent) : 0; }

double greatest_life_load(BearingKind kind, double dynamic_rating, double static_rating) {
  const double half = dynamic_rating / 2;
  return has_rollers(kind) ? half : std::fmin(half, static_rating);
}

}  // namespace armwright
