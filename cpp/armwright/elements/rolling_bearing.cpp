#include "armwright/elements/rolling_bearing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace armwright {

namespace {

constexpr double degree = 3.14159265358979323846 / 180;
constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double rounding = 1e-9;  // a bearing pressed by the other's e Fr stands at e, where X and Y jump: rounding must not choose

/// Of a table: where it is entered, and what stands there.
struct ByLoad {
  double relative_load, e, y;
};
struct ByAngle {
  double degrees, e, y_below, x_above, y_above;
};
struct StaticByAngle {
  double degrees, y;
};

constexpr std::array<ByLoad, 12> deep_groove{{{.014, .19, 2.30}, {.021, .21, 2.15}, {.028, .22, 1.99}, {.042, .24, 1.85}, {.056, .26, 1.71}, {.070, .27, 1.63},
                                              {.084, .28, 1.55}, {.110, .30, 1.45}, {.170, .34, 1.31}, {.280, .38, 1.15}, {.420, .42, 1.04}, {.560, .44, 1.00}}};
constexpr std::array<ByLoad, 9> deep_groove_by_f0{{{.172, .19, 2.30}, {.345, .22, 1.99}, {.689, .26, 1.71}, {1.03, .28, 1.55}, {1.38, .30, 1.45},
                                                   {2.07, .34, 1.31}, {3.45, .38, 1.15}, {5.17, .42, 1.04}, {6.89, .44, 1.00}}};
constexpr std::array<ByLoad, 9> ten_degrees{{{.014, .29, 1.88}, {.029, .32, 1.71}, {.057, .36, 1.52}, {.086, .38, 1.41}, {.11, .40, 1.34},
                                             {.17, .44, 1.23}, {.29, .49, 1.10}, {.43, .54, 1.01}, {.57, .54, 1.00}}};
constexpr std::array<ByLoad, 9> fifteen_degrees{{{.015, .38, 1.47}, {.029, .40, 1.40}, {.058, .43, 1.30}, {.087, .46, 1.23}, {.12, .47, 1.19},
                                                 {.17, .50, 1.12}, {.29, .55, 1.02}, {.44, .56, 1.00}, {.58, .56, 1.00}}};
constexpr double x_ten = 0.46, x_fifteen = 0.44;
constexpr std::array<ByAngle, 6> one_row{{{20, .57, 0, .43, 1.00}, {25, .68, 0, .41, .87}, {30, .80, 0, .39, .76},
                                          {35, .95, 0, .37, .66}, {40, 1.14, 0, .35, .57}, {45, 1.34, 0, .33, .50}}};
constexpr std::array<ByAngle, 6> two_rows{{{20, .57, 1.09, .70, 1.63}, {25, .68, .92, .67, 1.41}, {30, .80, .78, .63, 1.24},
                                           {35, .95, .66, .60, 1.07}, {40, 1.14, .55, .57, .93}, {45, 1.34, .47, .54, .81}}};
constexpr std::array<StaticByAngle, 8> static_one_row{{{10, .50}, {15, .46}, {20, .42}, {25, .38}, {30, .33}, {35, .29}, {40, .26}, {45, .22}}};
constexpr std::array<StaticByAngle, 6> static_two_rows{{{20, .84}, {25, .76}, {30, .66}, {35, .58}, {40, .52}, {45, .44}}};

/// Calls `between` with the two rows around a place and the share of the way, held to the table's ends.
template <class Row, class Between>
auto looked_up(std::span<const Row> rows, double Row::*place, double at, Between between) {
  std::size_t i = 1;
  while (i + 1 < rows.size() && rows[i].*place < at) ++i;
  const Row &a = rows[i - 1], &b = rows[i];
  return between(a, b, std::clamp((at - a.*place) / (b.*place - a.*place), 0.0, 1.0));
}

double mixed(double a, double b, double share) { return a + share * (b - a); }

LoadFactors mixed(const LoadFactors& a, const LoadFactors& b, double share) {
  return {mixed(a.e, b.e, share), mixed(a.x_below, b.x_below, share), mixed(a.y_below, b.y_below, share), mixed(a.x_above, b.x_above, share),
          mixed(a.y_above, b.y_above, share)};
}

LoadFactors by_load(std::span<const ByLoad> rows, double x_above, double relative_load) {
  return looked_up(rows, &ByLoad::relative_load, relative_load, [&](const ByLoad& a, const ByLoad& b, double share) {
    return LoadFactors{mixed(a.e, b.e, share), 1, 0, x_above, mixed(a.y, b.y, share)};
  });
}

LoadFactors by_angle(std::span<const ByAngle> rows, double angle) {
  return looked_up(rows, &ByAngle::degrees, angle / degree, [](const ByAngle& a, const ByAngle& b, double share) {
    return LoadFactors{mixed(a.e, b.e, share), 1, mixed(a.y_below, b.y_below, share), mixed(a.x_above, b.x_above, share), mixed(a.y_above, b.y_above, share)};
  });
}

LoadFactors angular_contact(double angle, double relative_load) {
  if (angle >= 20 * degree) return by_angle(one_row, angle);
  const LoadFactors fifteen = by_load(fifteen_degrees, x_fifteen, relative_load);
  if (angle >= 15 * degree) return mixed(fifteen, by_angle(one_row, 20 * degree), (angle / degree - 15) / 5);
  return mixed(by_load(ten_degrees, x_ten, relative_load), fifteen, std::max((angle / degree - 10) / 5, 0.0));
}

double static_by_angle(std::span<const StaticByAngle> rows, double angle) {
  return looked_up(rows, &StaticByAngle::degrees, angle / degree,
                   [](const StaticByAngle& a, const StaticByAngle& b, double share) { return mixed(a.y, b.y, share); });
}

double cotangent(double angle) { return 1 / std::tan(angle); }

RelativeLoad relative_of(const RollingBearing& bearing) { return std::isnan(bearing.f0) ? RelativeLoad::plain : RelativeLoad::by_f0; }

/// As the bearing's table is entered; without a static rating NaN.
double relative_load(const RollingBearing& bearing, double axial) { return (std::isnan(bearing.f0) ? 1 : bearing.f0) * axial / bearing.static_rating; }

}  // namespace

AngleRange contact_angles(BearingKind kind) {
  switch (kind) {
    case BearingKind::deep_groove: return {0, 0};
    case BearingKind::angular_contact: return {10 * degree, 45 * degree};
    case BearingKind::four_point: return {20 * degree, 45 * degree};
    case BearingKind::tapered:
    case BearingKind::crossed_roller: break;
  }
  return {0, 45 * degree};
}

double greatest_relative_load(BearingKind kind, double contact_angle, RelativeLoad relative) {
  if (kind == BearingKind::deep_groove) return relative == RelativeLoad::plain ? deep_groove.back().relative_load : deep_groove_by_f0.back().relative_load;
  if (kind != BearingKind::angular_contact || contact_angle >= 20 * degree) return infinite;
  return ten_degrees.back().relative_load;
}

LoadFactors standard_load_factors(BearingKind kind, double contact_angle, double relative_load, RelativeLoad relative) {
  switch (kind) {
    case BearingKind::deep_groove:
      return relative == RelativeLoad::plain ? by_load(deep_groove, 0.56, relative_load) : by_load(deep_groove_by_f0, 0.56, relative_load);
    case BearingKind::angular_contact: return angular_contact(contact_angle, relative_load);
    case BearingKind::tapered: return {1.5 * std::tan(contact_angle), 1, 0, 0.4, 0.4 * cotangent(contact_angle)};
    case BearingKind::four_point: return by_angle(two_rows, contact_angle);
    case BearingKind::crossed_roller: break;
  }
  return {1.5 * std::tan(contact_angle), 1, 0.45 * cotangent(contact_angle), 0.67, 0.67 * cotangent(contact_angle)};
}

StaticFactors standard_static_factors(BearingKind kind, double contact_angle) {
  switch (kind) {
    case BearingKind::deep_groove: return {0.6, 0.5};
    case BearingKind::angular_contact: return {0.5, static_by_angle(static_one_row, contact_angle)};
    case BearingKind::tapered: return {0.5, 0.22 * cotangent(contact_angle)};
    case BearingKind::four_point: return {1, static_by_angle(static_two_rows, contact_angle)};
    case BearingKind::crossed_roller: break;
  }
  return {1, 0.44 * cotangent(contact_angle)};
}

LoadFactors load_factors(const RollingBearing& bearing, double axial) {
  if (!std::isnan(bearing.own.y_above)) return bearing.own;
  const double relative = relative_load(bearing, axial);
  return standard_load_factors(bearing.kind, bearing.contact_angle, std::isnan(relative) ? 0 : relative, relative_of(bearing));
}

StaticFactors static_factors(const RollingBearing& bearing) {
  if (!std::isnan(bearing.own_static.y)) return bearing.own_static;
  return standard_static_factors(bearing.kind, bearing.contact_angle);
}

bool beyond_table(const RollingBearing& bearing, double axial) {
  return std::isnan(bearing.own.y_above) && relative_load(bearing, axial) > greatest_relative_load(bearing.kind, bearing.contact_angle, relative_of(bearing));
}

double equivalent_load(const LoadFactors& f, double radial, double axial) {
  const double below = f.x_below * radial + f.y_below * axial, above = f.x_above * radial + f.y_above * axial;
  if (std::isnan(below + above)) return below + above;  // a factor is not known: neither is the load
  if (std::isnan(f.e)) return std::max(below, above);
  return axial <= f.e * radial * (1 + rounding) ? below : above;
}

double static_equivalent_load(const StaticFactors& f, double radial, double axial) { return std::max(f.x * radial + f.y * axial, radial); }

double induced_axial_load(const RollingBearing& bearing, double radial) {
  if (bearing.kind == BearingKind::tapered) return radial / (2 * load_factors(bearing, 0).y_above);
  if (bearing.kind != BearingKind::angular_contact) return 0;
  const LoadFactors f = load_factors(bearing, infinite);
  if (!std::isnan(f.e)) return radial * f.e;
  const double meets = (f.x_below - f.x_above) / (f.y_above - f.y_below);  // own factors without e: where both formulas meet
  return radial * (meets < 0 ? 0 : meets);                                 // not known stays not known
}

}  // namespace armwright
