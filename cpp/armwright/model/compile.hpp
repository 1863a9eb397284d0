#pragma once

#include "armwright/model/cell_spec.hpp"
#include "armwright/model/model.hpp"

namespace armwright {

/// Checks a cell's description and turns it into the constant Model. Throws Refused for: no joints or more than
/// max_joints, numbers that are not finite, axes or rotations that are not of unit length, limits reversed, negative
/// masses or torques, an inertia that no body can have.
Model compile(const CellSpec& cell);

/// The order in which the links stand in Model and Scene: the joints' links, the track's carriage first.
std::vector<LinkSpec> moving_links(const CellSpec& cell);

}  // namespace armwright
