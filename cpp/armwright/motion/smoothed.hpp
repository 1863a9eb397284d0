#pragma once

#include "armwright/motion/chain_motion.hpp"

namespace armwright {

/// A motion whose s̈ is constant between rows, as a time-optimal one's is, made smooth: s(t) by its mean over the last `window` seconds. The
/// way stays what it is; it takes longer by the window, starts and ends at rest with s̈ = 0, and s̈ goes straight from row to row: s⃛ is the change
/// of s̈ over the window, divided by it. Speeds are means of speeds; a place is passed at those of the way about it, so that limits may be passed.
/// Rows wherever s⃛ jumps. `limit` stays unset.
PathStop smoothed_motion(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const ChainMotion& motion, double window, ChainMotion& out);

/// How much slower a motion has to be for all limits to be kept at its rows: joint and tool limits with jerk, motors and stages. 1 if
/// not at all; infinite where even standing is too much.
double smoothed_slowing(const Model& model, const CycleSpec& cycle, const ChainMotion& motion, NamedLimit& why);

/// The time-optimal motion smoothed over the window that makes it quickest once it is slowed to what every limit allows: the best of some
/// about that over which the jerk limits would let each acceleration turn round. No rows where none will do.
ChainMotion quickest_smoothed(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, const ChainMotion& optimal);

}  // namespace armwright
