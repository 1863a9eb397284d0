#pragma once

namespace armwright {

enum class TubeShape { round, rectangular };

/// A tube's cross-section, m. x runs along the tube, y along the width, z along the height. Wall = half the outer size: solid.
struct TubeSection {
  TubeShape shape = TubeShape::round;
  double width = 0, height = 0;  ///< outer; a round tube's diameter is its height (and width)
  double wall = 0;
  double outer_radius = 0, inner_radius = 0;  ///< of a rectangular tube's corners; 0: sharp
};

/// What a section does, SI.
struct SectionNumbers {
  double area = 0;                       ///< m²
  double moment_y = 0, moment_z = 0;     ///< second moments of area about y (bends in z) and about z, m⁴
  double torsion = 0;                    ///< torsion constant, m⁴
  double torsion_modulus = 0;            ///< torque by the greatest shear stress that it makes, m³
  double shear_area_y = 0, shear_area_z = 0;      ///< Timoshenko's, for forces along y and z, m²
  double shear_stress_y = 0, shear_stress_z = 0;  ///< greatest shear stress by a force along y and z, 1/m²
  double reach_y = 0, reach_z = 0;       ///< outermost fibre, m
};

/// Areas and moments exactly, by the differences of outer and inner outline; corner arcs by EN 10210-2 annex A (memory).
/// Torsion: round, exactly; rectangular, Bredt's hollow plus the open wall's share, I_t = 4 A_m² t/s + s t³/3 and
/// C_t = I_t/(t + K/t) with K = 2 A_m t/s, A_m and s on the wall's middle line (EN 10210-2 annex A, memory); for a solid
/// square 3.7 % too stiff and 7 % too much stress. Shear areas: Cowper, J. Appl. Mech. 33 (1966) 335 (memory), hollow circle and
/// thin-walled box; for thick boxes too soft in shear. `poisson`: Poisson's ratio, for the shear areas.
SectionNumbers section_numbers(const TubeSection& tube, double poisson);

/// Forces (N) and moments (N m) in a cut, in the section's axes.
struct SectionLoad {
  double along = 0, shear_y = 0, shear_z = 0;            ///< force along x, y, z
  double torsion = 0, bending_y = 0, bending_z = 0;      ///< moment about x, y, z
};

/// Stress in Pa. The greatest normal and the greatest shear stress of the section are taken at one point, on the safe side.
struct SectionStress {
  double normal = 0, shear = 0, von_mises = 0;
};

/// Nominal stress by beam theory; no notches, no buckling of thin walls. von Mises: sqrt(normal² + 3 shear²).
SectionStress section_stress(const TubeSection& tube, const SectionNumbers& numbers, const SectionLoad& load);

/// How slender the wall is against buckling before it yields, by its limit: above 1 the stress check does not hold. EN 1993-1-1
/// table 5.2, class 3 (memory): a round tube d/t <= 90 e², flat walls in even compression c/t <= 42 e with c = b - 3 t, e² =
/// 235 MPa / yield; for other metals than steel e² also goes with E / 210 GPa (own extension). `yield_strength`, `elastic_modulus`: Pa.
double wall_slenderness(const TubeSection& tube, double yield_strength, double elastic_modulus);

}  // namespace armwright
