#pragma once

#include <memory>
#include <span>
#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/kinematics/inverse/spun_arm.hpp"
#include "armwright/model/target_spec.hpp"

namespace armwright {

/// Where within a work point's freedom: the tool's axis, the spin about it, the redundant joints.
struct WorkPointChoice {
  Vec3 direction;
  double spin;
  HeldArm arm;
};

/// A work point, and the search for its postures.
struct WorkPoint {
  const PostureSearch& search;
  const ArmInverse* spun;    ///< see spun_arm(); null where spins are tried
  const TargetSpec& target;
};

/// The tool frame at the work point, its axis tilted by the least turn to `direction`, then spun about it.
Pose chosen_pose(const TargetSpec& target, const Vec3& direction, double spin);

/// The spins tried with the tool's axis along `direction`: none but 0 unless the spin is free; those that an arm of few joints
/// reaches, exactly; else evenly spread, at most `step` (rad) apart.
std::vector<double> spins_at(const WorkPoint& point, const Vec3& direction, double step);

/// Calls each(const WorkPointChoice&) for every direction with all spins and all values of the redundant joints, until it returns
/// true; so does this function then.
template <class Each>
bool any_choice(const WorkPoint& point, std::span<const Vec3> directions, double step, Each&& each) {
  for (const Vec3& direction : directions)
    for (const double spin : spins_at(point, direction, step))
      if (any_held(point.search, chosen_pose(point.target, direction, spin), [&](const HeldArm& arm) { return each(WorkPointChoice{direction, spin, arm}); }))
        return true;
  return false;
}

/// Every posture within the joint limits at the work point with its tool's axis along one of `directions`, clear or not:
/// rows × joint_count.
std::vector<double> work_point_postures(const WorkPoint& point, std::span<const Vec3> directions, double step);

}  // namespace armwright
