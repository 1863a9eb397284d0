#pragma once

#include "armwright/motion/chain_path.hpp"

namespace armwright {

/// The corner that leaves `before` at its end cut and joins `after` at its start cut, its chain parameter from `offset`. Both legs'
/// rows stand already. Straight on, it is the straight line itself, evenly told.
Corner corner_between(const PlacedLeg& before, const PlacedLeg& after, double offset);

/// One row of a corner at a share 0 to 1; the first half counts to the move before, the second to the one after.
void append_corner_at(const Corner& corner, double share, std::int32_t before, std::int32_t after, PathRows& out);

/// The corner's inner rows, evenly spread.
void append_corner(const Corner& corner, std::int32_t before, std::int32_t after, int intervals, PathRows& out);

/// Rows of a leg, told by the chain's parameter.
void append_scaled(const PathRows& rows, const PlacedLeg& leg, PathRows& out);

}  // namespace armwright
