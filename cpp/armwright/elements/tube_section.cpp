#include "armwright/elements/tube_section.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace armwright {

namespace {

constexpr double pi = std::numbers::pi;

// A rectangle with rounded corners: area, and second moment about the axis along its breadth.
struct Outline {
  double area, moment;
};

Outline outline(double breadth, double depth, double radius) {
  const double corner = (1 - pi / 4) * radius * radius;  // what one corner lacks
  const double arm = depth / 2 - (10 - 3 * pi) / (12 - 3 * pi) * radius;
  const double own = (1.0 / 3 - pi / 16 - 1 / (3 * (12 - 3 * pi))) * radius * radius * radius * radius;
  return {breadth * depth - 4 * corner, breadth * depth * depth * depth / 12 - 4 * (own + corner * arm * arm)};
}

// First moment of one half about the middle, by the square of the wall that it is sheared through (2 t).
double half_moment(double breadth, double depth, double wall) {
  const double inner = depth - 2 * wall;
  return (breadth * depth * depth - (breadth - 2 * wall) * inner * inner) / 8;
}

// Cowper's coefficient of a thin box for a force along its depth, of middle-line breadth b and depth h, one wall all round.
double cowper_box(double b, double h, double nu) {
  const double m = b / h, n = b / h;
  const double below = 12 + 72 * m + 150 * m * m + 90 * m * m * m + nu * (11 + 66 * m + 135 * m * m + 90 * m * m * m) +
                       10 * n * n * ((3 + nu) * m + 3 * m * m);
  return 10 * (1 + nu) * (1 + 3 * m) * (1 + 3 * m) / below;
}

SectionNumbers round_numbers(const TubeSection& tube, double nu) {
  SectionNumbers out;
  const double outer = tube.height, inner = std::max(outer - 2 * tube.wall, 0.0);
  out.area = pi / 4 * (outer * outer - inner * inner);
  out.moment_y = out.moment_z = pi / 64 * (std::pow(outer, 4) - std::pow(inner, 4));
  out.torsion = 2 * out.moment_y;
  out.torsion_modulus = out.torsion / (outer / 2);
  const double m = inner / outer, one = (1 + m * m) * (1 + m * m);
  out.shear_area_y = out.shear_area_z = out.area * 6 * (1 + nu) * one / ((7 + 6 * nu) * one + (20 + 12 * nu) * m * m);
  out.shear_stress_y = out.shear_stress_z = (std::pow(outer, 3) - std::pow(inner, 3)) / 12 / (out.moment_y * 2 * tube.wall);
  out.reach_y = out.reach_z = outer / 2;
  return out;
}

SectionNumbers box_numbers(const TubeSection& tube, double nu) {
  SectionNumbers out;
  const double b = tube.width, h = tube.height, t = tube.wall, inner_b = b - 2 * t, inner_h = h - 2 * t;
  const Outline outer = outline(b, h, tube.outer_radius), hollow = outline(inner_b, inner_h, tube.inner_radius);
  out.area = outer.area - hollow.area;
  out.moment_y = outer.moment - hollow.moment;
  out.moment_z = outline(h, b, tube.outer_radius).moment - outline(inner_h, inner_b, tube.inner_radius).moment;
  const double radius = (tube.outer_radius + tube.inner_radius) / 2;
  const double around = 2 * (b + h - 2 * t) - 2 * radius * (4 - pi), within = (b - t) * (h - t) - radius * radius * (4 - pi);
  const double K = 2 * within * t / around;
  out.torsion = around * t * t * t / 3 + 2 * K * within;
  out.torsion_modulus = out.torsion / (t + K / t);
  out.shear_area_z = out.area * cowper_box(b - t, h - t, nu);
  out.shear_area_y = out.area * cowper_box(h - t, b - t, nu);
  out.shear_stress_z = half_moment(b, h, t) / (out.moment_y * 2 * t);
  out.shear_stress_y = half_moment(h, b, t) / (out.moment_z * 2 * t);
  out.reach_y = b / 2, out.reach_z = h / 2;
  return out;
}

}  // namespace

SectionNumbers section_numbers(const TubeSection& tube, double poisson) {
  return tube.shape == TubeShape::round ? round_numbers(tube, poisson) : box_numbers(tube, poisson);
}

SectionStress section_stress(const TubeSection& tube, const SectionNumbers& s, const SectionLoad& load) {
  SectionStress out;
  const double about_y = load.bending_y * s.reach_z / s.moment_y, about_z = load.bending_z * s.reach_y / s.moment_z;
  // Round: both bend about one axis; rectangular: the corner has both. Shear flows of both forces add beside two of the
  // corners of a box: at b = h = side they come to 4/3 of one of two like ones, and never to more than the root of squares.
  const bool round = tube.shape == TubeShape::round;
  const double bending = round ? std::hypot(about_y, about_z) : std::fabs(about_y) + std::fabs(about_z);
  const double across_y = load.shear_y * s.shear_stress_y, across_z = load.shear_z * s.shear_stress_z;
  const double across = std::hypot(across_y, across_z);
  out.normal = std::fabs(load.along) / s.area + bending;
  out.shear = std::fabs(load.torsion) / s.torsion_modulus + across;
  out.von_mises = std::sqrt(out.normal * out.normal + 3 * out.shear * out.shear);
  return out;
}

double wall_slenderness(const TubeSection& tube, double yield_strength, double elastic_modulus) {
  const double square = 235e6 / yield_strength * elastic_modulus / 210e9;
  if (tube.shape == TubeShape::round) return tube.height / tube.wall / (90 * square);
  return (std::max(tube.width, tube.height) - 3 * tube.wall) / tube.wall / (42 * std::sqrt(square));
}

}  // namespace armwright
