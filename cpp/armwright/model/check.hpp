#pragma once

#include <string>

#include "armwright/model/cell_spec.hpp"

namespace armwright {

// Each throws Refused, naming the thing, its value and the rule.
void check_finite(const std::string& key, double value);
void check_pose(const std::string& key, const Pose& pose);
void check_unit(const std::string& key, const Vec3& axis);
/// Mass not negative; the tensor's principal moments not negative and each at most the sum of the other two, which
/// every body fulfils (equality for a plate), within 1e-6 of the largest moment.
void check_inertia(const std::string& key, const Inertia& body);
/// Each more than 0; infinity is no limit.
void check_motion_limits(const std::string& key, double speed, double acceleration, double jerk);
void check_joint(const std::string& key, const JointSpec& joint);
void check_cell(const CellSpec& cell);

}  // namespace armwright
