#pragma once

#include "armwright/kinematics/inverse/few/axis_chain.hpp"

namespace armwright {

/// Revolute joints in a row with parallel axes: the attitude knows only the sum of their turns.
struct Groups {
  int count = 0;
  std::array<Vec3, 6> axis{};
  std::array<int, 6> of{};        ///< which group each joint belongs to; -1: it slides
  std::array<double, 6> sign{};   ///< of the joint's turn about the group's axis
  std::array<int, 6> last{};      ///< the group's last joint
  int turning = 0;
};
Groups groups_of(const AxisChain& chain);

/// Whether candidates_by_groups() serves the chain: three groups at most; two joints at most beyond one a group; not more
/// of these and slides together than the position needs.
bool fits_groups(const AxisChain& chain, const Groups& groups);

/// All postures for a target, for chains with at most three groups: first the sums of the groups from the attitude (closed
/// form, two answers), then the slides and the other turns from the position, which is linear in the slides and in the cosine
/// and sine of each turn summed up: linear, or the roots of a trigonometric polynomial of degree 6 at most. Complete but for
/// attitudes where groups 1 and 3 fall in line. There the turn of group 1 is tried at 72 values; with `first_is_free` (six
/// joints: it may be anything) from `first_turn` on until one answers, so that of several curves of answers, as where the
/// arm is stretched out too, one may be missed.
void candidates_by_groups(const AxisChain& chain, const Groups& groups, const Pose& target, bool first_is_free, double first_turn, Candidates& out);

}  // namespace armwright
