#include "armwright/elements/bearing_pair.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

double effective_span(const BearingPair& pair) {
  switch (pair.arrangement) {
    case Arrangement::back_to_back: return pair.span + 2 * pair.pressure_centre;
    case Arrangement::face_to_face: return pair.span - 2 * pair.pressure_centre;
    case Arrangement::fixed_near:
    case Arrangement::fixed_far: break;
  }
  return pair.span;
}

PairRadial pair_radial(double force_x, double force_y, double moment_x, double moment_y, double span) {
  // A force F at height z turns by z k × F = z (-Fy, Fx); so far · s - (near + far) · s/2 = M × k = (My, -Mx).
  const double far_x = moment_y / span + force_x / 2, far_y = -moment_x / span + force_y / 2;
  return {{force_x - far_x, far_x}, {force_y - far_y, far_y}};
}

PairAxial pair_axial(double induced_pressed, double induced_other, double external, double preload, double share) {
  if (std::isnan(induced_pressed + induced_other)) return {induced_pressed + induced_other, induced_pressed + induced_other};
  const double other = std::max({induced_other, induced_pressed - external, preload - share * external, 0.0});
  return {other + external, other};
}

PairLoads pair_loads(const BearingPair& pair, const PairRadial& forces, double axial) {
  PairLoads loads{};
  for (std::size_t i = 0; i < 2; ++i) loads.radial[i] = std::hypot(forces.x[i], forces.y[i]);
  if (pair.arrangement == Arrangement::fixed_near || pair.arrangement == Arrangement::fixed_far) {
    loads.axial[pair.arrangement == Arrangement::fixed_near ? 0 : 1] = std::fabs(axial);
    return loads;
  }
  // Back to back, the far bearing's outer ring stands behind its balls towards the middle, so that it can push an inner ring outwards
  // only, along +z. Face to face, or with the outer ring moving, it is the near one that does.
  const bool far_pushes_up = (pair.arrangement == Arrangement::back_to_back) == (pair.moved_ring != MovedRing::outer);
  const std::size_t pressed = (axial >= 0) == far_pushes_up ? 1 : 0, other = 1 - pressed;
  const PairAxial shared = pair_axial(induced_axial_load(pair.bearing[pressed], loads.radial[pressed]), induced_axial_load(pair.bearing[other], loads.radial[other]),
                                      std::fabs(axial), pair.preload, has_rollers(pair.bearing[0].kind) ? 1.0 / 2 : 1.0 / 3);
  loads.axial[pressed] = shared.pressed;
  loads.axial[other] = shared.other;
  return loads;
}

}  // namespace armwright
