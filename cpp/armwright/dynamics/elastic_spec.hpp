#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "armwright/elements/beam.hpp"
#include "armwright/spatial/vector3.hpp"

namespace armwright {

// What gives way in an arm, as described. Links: of the arm, from the base out; -1 is the base link. Points in the link's
// described frame, the joint's own frame, moved. `cause` is an index into ElasticSpec::causes.

/// A bearing, or a link as a hinge: gives way at one point, alike all round an axis. Everything of the link and beyond it is
/// moved. Compliances: 0 is rigid.
struct RoundSpring {
  int link = 0;
  Vec3 point{0, 0, 0}, axis{0, 0, 1};
  double along = 0, across = 0;  ///< shift by force along the axis and across it, m/N
  double tilt = 0, twist = 0;    ///< turn by moment across the axis and about it, rad/(N m)
  std::int32_t cause = 0;
};

/// A stage between motor and axis. Axes as the model's: the track first if there is one.
struct StageSpring {
  std::size_t axis = 0;
  double compliance = 0;  ///< turn of the axis by torque at the axis, rad/(N m); m/N where it slides
  std::int32_t cause = 0;
};

/// A link's tube. What of the link is not the tube counts where it projects on the tube's line, before the tube or behind it
/// if that is beyond its ends.
struct LinkBeam {
  int link = 0;
  Vec3 start{0, 0, 0}, end{0, 0, 0}, up{0, 0, 1};  ///< `up`: direction of the section's height, made square to the line
  Beam beam;                        ///< its length is that from start to end, whatever it says
  double mass = 0;                  ///< of its own, kg/m; 0: none known, the link counts whole at its centre of gravity
  double spin_x = 0, spin_y = 0, spin_z = 0;  ///< rotary inertia of a metre about its axes, kg m
  std::int32_t cause = 0;
};

struct ElasticSpec {
  std::vector<StageSpring> stages;
  std::vector<RoundSpring> springs;
  std::vector<LinkBeam> beams;
  std::vector<std::string> causes;
  std::size_t pieces = 2;  ///< that a beam is cut into; statics are exact with one
};

/// Turn of an axis by torque at the axis from a stage's stiffness at its own output: 1/(k N²), N the turns of that output a
/// turn of the axis (product of the ratios between; rad/m where the axis slides).
inline double referred_compliance(double stiffness, double ratio_beyond) { return 1 / (stiffness * ratio_beyond * ratio_beyond); }

}  // namespace armwright
