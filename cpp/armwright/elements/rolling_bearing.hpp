#pragma once

#include <cstdint>
#include <limits>

namespace armwright {

/// Radial rolling bearings of one row, and the two kinds of slewing bearing, which the standards treat as radial bearings of two
/// rows: a crossed roller bearing has two rows of rollers in one, a four-point bearing two rows of ball contacts.
enum class BearingKind : std::int8_t { deep_groove, angular_contact, tapered, four_point, crossed_roller };

constexpr bool has_rollers(BearingKind kind) { return kind == BearingKind::tapered || kind == BearingKind::crossed_roller; }

/// Exponent of the life equation, ISO 281: 3 for balls, 10/3 for rollers.
constexpr double life_exponent(BearingKind kind) { return has_rollers(kind) ? 10.0 / 3 : 3.0; }

/// Contact angles (rad) that the tables here span: 10 to 45 degrees for angular contact, 20 to 45 for four-point balls, up to 45
/// for rollers; above 45 degrees ISO 281 has thrust bearings. A deep groove bearing has none (0 to 0).
struct AngleRange {
  double least, greatest;
};
AngleRange contact_angles(BearingKind kind);

/// P = X Fr + Y Fa, with one pair of factors up to the ratio Fa/Fr = e and another beyond. e NaN: the greater of both.
struct LoadFactors {
  double e, x_below, y_below, x_above, y_above;
};

/// P0 = X0 Fr + Y0 Fa.
struct StaticFactors {
  double x, y;
};

/// Of deep groove bearings: the relative axial load is told as Fa/C0, for bearings of an unknown f0, or as f0 Fa/C0 (ISO 281:2007).
enum class RelativeLoad : std::int8_t { plain, by_f0 };

/// Greatest Fa/C0 (f0 Fa/C0) that the tables have for a kind and contact angle (rad); infinite where factors do not depend on it.
/// Up to there ISO 281 gives factors; beyond, the last are used, whose Y is the least of the table, and the caller tells so.
double greatest_relative_load(BearingKind kind, double contact_angle, RelativeLoad relative = RelativeLoad::plain);

/// Factors of ISO 281 (table of radial ball bearings, with Fa/C0 as older editions and textbooks print it, i.e. one f0 for all sizes;
/// table of radial roller bearings; from memory but for two entries): one row for deep groove, angular contact and tapered, two rows for
/// the slewing kinds. `contact_angle` rad, within contact_angles(kind); `relative_load` Fa/C0, below the table's first taken as
/// the first. Between entries straight, as the standard has it.
LoadFactors standard_load_factors(BearingKind kind, double contact_angle, double relative_load, RelativeLoad relative = RelativeLoad::plain);

/// Factors of ISO 76, rows and angles as above.
StaticFactors standard_static_factors(BearingKind kind, double contact_angle);

/// One bearing as it is calculated. Ratings N; angle rad. Factors that are NaN are the standard's.
struct RollingBearing {
  static constexpr double untold = std::numeric_limits<double>::quiet_NaN();
  BearingKind kind = BearingKind::deep_groove;
  double contact_angle = 0;
  double dynamic_rating = untold, static_rating = untold;
  LoadFactors own{untold, untold, untold, untold, untold};
  StaticFactors own_static{untold, untold};
  double f0 = untold;  ///< deep groove only
};

/// Its own factors if told, else the standard's at an axial load, N. Without a static rating the first of the table count, which give
/// the greatest P.
LoadFactors load_factors(const RollingBearing& bearing, double axial);
StaticFactors static_factors(const RollingBearing& bearing);

/// Whether the standard's factors count and Fa/C0 is beyond the end of their table.
bool beyond_table(const RollingBearing& bearing, double axial);

/// Dynamic equivalent load, N, of a radial and an axial load of no sign, N (ISO 281).
double equivalent_load(const LoadFactors& factors, double radial, double axial);

/// Static equivalent load, N: X0 Fr + Y0 Fa, and not less than Fr (ISO 76).
double static_equivalent_load(const StaticFactors& factors, double radial, double axial);

/// Axial load that a radial load (N) makes in a bearing whose contacts are slanted, N: Fr/(2Y) for tapered rollers, e Fr for angular
/// contact balls (makers' catalogues, from memory); with the greatest e where that grows with the axial load. 0 for deep groove.
double induced_axial_load(const RollingBearing& bearing, double radial);

}  // namespace armwright
