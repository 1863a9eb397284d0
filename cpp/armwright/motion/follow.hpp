#pragma once

#include <span>

#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/motion/path.hpp"
#include "armwright/motion/tool_curve.hpp"

namespace armwright {

/// Below this inverse condition of the Jacobian (of the joints that are solved for, angles counted as 0.3 m a radian) a tool path is
/// not followed: the joints would turn more than some thousand times as fast as the tool asks for.
inline constexpr double least_inverse_condition = 5e-4;

/// A tool path as a follower takes it: the track and other joints that the inverse holds are told, the track going evenly
/// from where it starts to `track_to`; the others stay.
struct Followed {
  ToolCurve curve;
  double track_to;  ///< m; NaN: the track stays where it is
};

/// The joints along a tool path at the rising parameters `s` (from 0 to the curve's extent), from the posture `start` at 0: of all
/// inverse solutions the one that continues the posture, on the same side of singular postures; q' = J⁻¹ x', q'' = J⁻¹ (x'' − J' q'). Between the given
/// parameters it goes in smaller steps where that is needed to tell the branches apart. Appends rows to `out` (q, first, second;
/// not s and move). Where the path cannot be followed, rows up to there are there and the answer tells why.
PathStop follow(const ArmInverse& inverse, const Followed& path, std::span<const double> start, std::span<const double> s, PathRows& out);

}  // namespace armwright
