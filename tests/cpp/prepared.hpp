#pragma once

#include <memory>

#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/model/compile.hpp"

namespace armwright::testing {

/// The inverse of a cell's model, to be shared.
inline std::shared_ptr<const ArmInverse> prepared_of(const CellSpec& cell) { return std::make_shared<const ArmInverse>(prepare_arm_inverse(compile(cell))); }

}  // namespace armwright::testing
