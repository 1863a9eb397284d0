#pragma once

#include <string>

#include "armwright/model/arm_spec.hpp"

namespace armwright {

// Each throws Refused, naming the thing, its value and the rule.
void check_drive(const std::string& key, const DriveSpec& drive);
void check_spring(const std::string& key, const SpringSpec& spring, int link_count);
/// Square, finite, and not singular: its determinant not below 1e-9 of the product of its rows' lengths.
void check_coupling(const std::vector<double>& matrix, std::size_t joint_count);

}  // namespace armwright
