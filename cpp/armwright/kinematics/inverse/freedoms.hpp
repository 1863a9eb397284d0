#pragma once

#include <cstddef>
#include <vector>

#include "armwright/model/model.hpp"

namespace armwright {

/// The joints of a model, the sliding ones first, else from the base out.
std::vector<std::size_t> sliding_first(const Model& model);

/// How many freedoms the tool has by these joints: the rank of the Jacobian's columns at a posture without meaning of its
/// own, singular values below 1e-9 of the greatest taken for zero.
std::size_t freedoms(const Model& model, const std::vector<std::size_t>& joints);

/// Whether the last three of these joints turn about axes that meet in a point.
bool ends_in_spherical_wrist(const Model& model, const std::vector<std::size_t>& joints);

}  // namespace armwright
