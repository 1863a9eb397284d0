#include "armwright/elements/bolt.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace armwright {

namespace {

constexpr double unlimited = std::numeric_limits<double>::infinity();
constexpr double partial_factor = 1.25;

struct Row {
  std::string_view name;
  double tensile, yield, proof, shear_share;  // MPa
  bool in_joints;
};

// ISO 898-1:2013, table 3, from memory: least tensile strength, yield (4.6, 5.6: lower; else 0.2 %), stress under proof load.
constexpr Row rows[] = {
    {"4.6", 400, 240, 225, 0.6, true},   {"4.8", 420, 340, 310, 0.5, true},  {"5.6", 500, 300, 280, 0.6, true},
    {"5.8", 520, 420, 380, 0.5, true},   {"6.8", 600, 480, 440, 0.5, true},  {"8.8", 800, 640, 580, 0.6, true},
    {"9.8", 900, 720, 650, 0.5, false},  {"10.9", 1040, 940, 830, 0.5, true}, {"12.9", 1220, 1100, 970, 0.5, false},
};
constexpr Row thick_88{"8.8", 830, 660, 600, 0.6, true};  // above 16 mm

// The class's first figure, in hundreds.
double nominal(double tensile) { return 100 * std::floor(tensile / 100 + 1e-9); }

// NaN stays NaN: what is not known is not safe.
double over(double bears, double has) { return has <= 0 ? unlimited : bears / has; }

}  // namespace

std::optional<PropertyClass> property_class(std::string_view name, double diameter) {
  for (Row row : rows) {
    if (row.name != name) continue;
    if (name == "8.8" && diameter > 0.016 * (1 + 1e-9)) row = thick_88;
    const bool known = diameter <= (name == "9.8" ? 0.016 : 0.039) * (1 + 1e-9);
    return PropertyClass{row.tensile * 1e6, nominal(row.tensile) * 1e6, row.yield * 1e6, row.proof * 1e6, row.shear_share, known, row.in_joints};
  }
  return std::nullopt;
}

double stress_area(double diameter, double pitch) {
  const double d = diameter - 0.9382 * pitch;
  return std::numbers::pi / 4 * d * d;
}

double bolt_force(const BoltForces& f) {
  const double tension = std::max(f.tension, 0.0);
  return std::max(f.preload + f.load_share * tension, tension);
}

double proof_safety(double proof_stress, double area, const BoltForces& f) {
  const double stress = bolt_force(f) / area, shear = f.shear / area;
  return over(proof_stress, std::sqrt(stress * stress + 3 * shear * shear));
}

double load_factor(double proof_stress, double area, const BoltForces& f) {
  const double proof = proof_stress * area;
  if (f.tension <= 0) return f.preload <= proof ? unlimited : 0;
  // Closed or opened, whichever force is the greater at the limit.
  const double closed = f.load_share > 0 ? (proof - f.preload) / (f.load_share * f.tension) : f.preload <= proof ? unlimited : 0;
  return std::clamp(closed, 0.0, proof / f.tension);
}

double joint_safety(const PropertyClass& property, double area, double tension, double shear) {
  const double strength = property.nominal * area / partial_factor, pull = std::max(tension, 0.0) / (0.9 * strength);
  const double together = over(1, shear / (property.shear_share * strength) + pull / 1.4);
  return std::isnan(together) ? together : std::min(together, over(1, pull));
}

double told_safety(double tension, double shear, double allowed_tension, double allowed_shear) {
  return over(1, std::max(tension, 0.0) / allowed_tension + shear / allowed_shear);
}

}  // namespace armwright
