#pragma once

#include <cmath>

namespace armwright {

// Rack and pinion

/// Forces of the teeth for a force along the track, N, all as magnitudes.
struct RackForces {
  double tangential, radial, axial;
  double resultant;  ///< across the pinion's shaft: tangential and radial together
};

/// Pressure angle in the normal section and helix angle, rad: radial F tan α / cos β, axial F tan β (textbook).
inline RackForces rack_forces(double force, double pressure_angle, double helix) {
  const double along = std::fabs(force), radial = along * std::tan(pressure_angle) / std::cos(helix);
  return {along, radial, along * std::tan(helix), std::hypot(along, radial)};
}

/// Pitch diameter of a pinion, m: z m / cos β.
inline double pinion_diameter(double module, double teeth, double helix) { return teeth * module / std::cos(helix); }

/// Bending moment of the pinion's shaft at its nearest bearing, N m, `overhang` m from the middle of the teeth: tangential and
/// radial force there, the axial force at the pitch circle in the radial force's plane, turned so that it adds.
inline double pinion_bending(const RackForces& forces, double diameter, double overhang) {
  return std::hypot(forces.tangential * overhang, forces.radial * overhang + forces.axial * diameter / 2);
}

/// Form factor Y of Lewis for teeth of full depth at 20° (Shigley's table 14-2, from memory), straight between its teeth; NaN
/// below 12 teeth. Of helical teeth the virtual number counts, z / cos³ β.
double lewis_factor(double teeth);

/// Bending stress at the foot of a tooth, Pa, by Lewis: F / (b m Y), the whole force at the tip of one tooth, without factors for
/// speed and notch; `module` normal, m.
inline double tooth_foot_stress(double force, double face_width, double module, double teeth, double helix) {
  return std::fabs(force) / (face_width * module * lewis_factor(teeth / std::pow(std::cos(helix), 3)));
}

// Toothed belt, its ends clamped to the carriage, both strands tensioned alike when nothing pulls

/// Strand that pulls and strand that lets go, N.
struct BeltTensions {
  double tight, slack;
};

/// The loop's length does not change, so that a force F splits by the strands' compliances: the tight one takes the slack one's
/// share of the length, tight = preload + F (1 − share), slack = preload − F share, with `share` the tight strand's part of
/// the loop between carriage and driving pulley (0: carriage at that pulley). A negative slack is none: the strand is loose.
inline BeltTensions belt_tensions(double force, double preload, double share) {
  const double along = std::fabs(force);
  return {preload + along * (1 - share), preload - along * share};
}

/// How far the carriage gives under a force, N/m at the worst place: amid the loop, where both strands hold alike, 4 c / L with
/// the belt's pull by its strain c (N) and the loop's length L (m). Both strands must be tight.
inline double belt_stiffness(double specific_stiffness, double length) { return 4 * specific_stiffness / length; }

// Screw

/// End conditions of a screw or strut.
enum class ScrewEnds { fixed_free, supported_supported, fixed_supported, fixed_fixed };

/// Euler's factor f of F = f π² E I / L²: 1/4, 1, 2.0457 (root of tan x = x, squared over π²), 4.
inline double buckling_factor(ScrewEnds ends) {
  switch (ends) {
    case ScrewEnds::fixed_free: return 0.25;
    case ScrewEnds::supported_supported: return 1;
    case ScrewEnds::fixed_supported: return 2.045748;
    default: return 4;
  }
}

/// First root λ of the frequency equation of a uniform beam: cantilever 1.875104, hinged π, fixed and hinged 3.926602,
/// fixed both ends 4.730041 (textbook).
inline double whirling_root(ScrewEnds ends) {
  switch (ends) {
    case ScrewEnds::fixed_free: return 1.875104;
    case ScrewEnds::supported_supported: return 3.141593;
    case ScrewEnds::fixed_supported: return 3.926602;
    default: return 4.730041;
  }
}

/// Second moment of area of a full round of that diameter, m⁴.
inline double round_second_moment(double diameter) { return 3.141592653589793 * std::pow(diameter, 4) / 64; }

/// Euler's buckling force of a round screw, N; `free_length` m between its supports, `modulus` of elasticity Pa.
inline double buckling_force(double diameter, double free_length, double modulus, ScrewEnds ends) {
  constexpr double pi2 = 9.869604401089358;
  return buckling_factor(ends) * pi2 * modulus * round_second_moment(diameter) / (free_length * free_length);
}

/// Slenderness of the screw as a strut hinged at both ends: its free length over √f, over the radius of gyration d/4.
inline double slenderness(double diameter, double free_length, ScrewEnds ends) {
  return free_length / std::sqrt(buckling_factor(ends)) / (diameter / 4);
}

/// Force at which a round screw gives way under pressure, N: by Euler where that is at most half of what crushes it, else
/// by Johnson's parabola A σ (1 − σ λ²/(4 π² E)), which meets it there (textbook); `yield` Pa.
inline double strut_force(double diameter, double free_length, double modulus, double yield, ScrewEnds ends) {
  constexpr double pi = 3.141592653589793;
  const double euler = buckling_force(diameter, free_length, modulus, ends), crushing = pi / 4 * diameter * diameter * yield;
  if (euler <= crushing / 2) return euler;
  const double slender = slenderness(diameter, free_length, ends);
  return crushing * (1 - yield * slender * slender / (4 * pi * pi * modulus));
}

/// First critical speed of a round screw, rad/s: (λ/L)² √(E I / (ρ A)) = (λ/L)² (d/4) √(E/ρ).
inline double whirling_speed(double diameter, double length, double modulus, double density, ScrewEnds ends) {
  const double wave = whirling_root(ends) / length;
  return wave * wave * diameter / 4 * std::sqrt(modulus / density);
}

}  // namespace armwright
