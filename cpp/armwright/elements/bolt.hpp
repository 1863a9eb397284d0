#pragma once

#include <optional>
#include <string_view>

namespace armwright {

/// Steel bolts by their property class, ISO 898-1:2013, table 3 (from memory): Pa. `tensile`: least tensile strength, `nominal`:
/// the nominal one, which EN 1993-1-8 counts with, `yield`: lower yield or proof strength, `proof`: stress under proof load.
/// `shear_share`: alpha_v of EN 1993-1-8, table 3.4, through the thread (from memory); for 9.8 and 12.9, which that standard does
/// not know, the lower value.
struct PropertyClass {
  double tensile, nominal, yield, proof, shear_share;
  bool in_standard;  ///< of that diameter in ISO 898-1 (9.8: up to 16 mm; all: up to 39 mm) ...
  bool in_joints;    ///< ... and in EN 1993-1-8 (not 9.8 and 12.9)
};

/// "4.6" to "12.9" at a nominal diameter (m; 8.8 is stronger above 16 mm); none: no such class.
std::optional<PropertyClass> property_class(std::string_view name, double diameter);

/// Nominal stress area of a metric thread, ISO 898-1 (from memory): As = pi/4 (d - 0.9382 P)², m².
double stress_area(double diameter, double pitch);

/// What a bolt has to bear, N (NaN: not known, and no safety is either): tension from outside (prying in it), shear, preload; and
/// what share of the tension the preloaded bolt feels while the joint is closed (stiffness of the bolt over that of bolt and
/// plates; 1: all of it).
struct BoltForces {
  double tension, shear, preload, load_share;
};

/// Force in a bolt, N: preload and its share of the load while the joint is closed, the whole load once it has opened.
double bolt_force(const BoltForces& forces);

/// Stress under proof load over the equivalent stress sqrt(s² + 3 t²) of that force and the shear, on the stress area.
double proof_safety(double proof_stress, double area, const BoltForces& forces);

/// How often the tension could be there before the force reaches proof load: (proof - preload)/(share T). 0: the preload alone is too
/// much; infinity: no tension.
double load_factor(double proof_stress, double area, const BoltForces& forces);

/// EN 1993-1-8, table 3.4 (from memory), partial factor 1.25: 1/(Fv/FvRd + Ft/(1.4 FtRd)), and FtRd/Ft, the smaller, with
/// FtRd = 0.9 fub As/1.25, FvRd = shear_share fub As/1.25, fub the nominal strength. Preload does not count there; partial factors
/// of the loads are the user's.
double joint_safety(const PropertyClass& property, double area, double tension, double shear);

/// Against force limits that were told (anchors, stainless bolts): 1/(T/T_allowed + V/V_allowed), the straight line between the two,
/// which is the safe side of the usual curved ones. A limit that is infinite was not told.
double told_safety(double tension, double shear, double allowed_tension, double allowed_shear);

}  // namespace armwright
