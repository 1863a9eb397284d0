#include "armwright/clearance/work_point.hpp"

#include "armwright/kinematics/attitudes.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

Pose chosen_pose(const TargetSpec& target, const Vec3& direction, double spin) {
  const Rotation tilted = tilted_to(target.pose.rotation, direction);
  return {tilted * turn_about({0, 0, 1}, spin), target.pose.position};
}

std::vector<double> spins_at(const WorkPoint& point, const Vec3& direction, double step) {
  if (!point.target.free_spin) return {0};
  if (!point.spun) return spread_spins(step);
  const Pose unspun = chosen_pose(point.target, direction, 0);
  std::vector<double> exact;
  any_held(point.search, unspun, [&](const HeldArm& arm) {
    for (const double spin : exact_spins(*point.spun, arm.held, unspun)) exact.push_back(spin);
    return false;
  });
  return exact;
}

std::vector<double> work_point_postures(const WorkPoint& point, std::span<const Vec3> directions, double step) {
  const Model& model = *point.search.model;
  PostureWork work;
  std::vector<double> rows;
  any_choice(point, directions, step, [&](const WorkPointChoice& choice) {
    visit_within_limits(point.search, work, chosen_pose(point.target, choice.direction, choice.spin), choice.arm, [&](const Posture& posture) {
      rows.insert(rows.end(), posture.q, posture.q + model.joint_count);
      return false;
    });
    return false;
  });
  return rows;
}

}  // namespace armwright
