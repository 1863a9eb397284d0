#pragma once

#include <vector>

#include "armwright/model/cell_spec.hpp"
#include "armwright/model/model.hpp"

namespace armwright {

/// Drives, coupling and springs of a cell into the model, whose chain and link frames stand already; `joints` in the
/// model's order, the track first if there is one. Sets what each axis holds at rest: for any time the least of the
/// stated torque, the motor's continuous torque at rest and every stage's rated torque, each carried to the axis by the
/// ratios and driving efficiencies of the stages beyond it; for a short time of the stated peak, the motor's peak and every stage's
/// repeated peak. Checks all of it; throws Refused.
void compile_drives(const CellSpec& cell, const std::vector<JointSpec>& joints, Model& model);

}  // namespace armwright
