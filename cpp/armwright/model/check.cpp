#include "armwright/model/check.hpp"

#include <Eigen/Eigenvalues>
#include <cmath>

#include "armwright/model/model.hpp"
#include "armwright/support/refused.hpp"
#include "armwright/support/told.hpp"

namespace armwright {

namespace {

bool finite(const Vec3& v) { return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z); }
std::string shown(const Vec3& v) { return told("(", v.x, ", ", v.y, ", ", v.z, ")"); }

}  // namespace

void check_finite(const std::string& key, double value) {
  if (!std::isfinite(value)) throw Refused(key, told(value), "a finite number");
}

void check_unit(const std::string& key, const Vec3& axis) {
  if (!finite(axis) || std::fabs(norm(axis) - 1) > 1e-9) throw Refused(key, shown(axis), "a vector of length 1");
}

void check_pose(const std::string& key, const Pose& pose) {
  const auto& [R, p] = pose;
  if (!finite(p)) throw Refused(key + " position", shown(p), "finite numbers");
  const bool right_angled = std::fabs(dot(R.x, R.y)) < 1e-9 && std::fabs(dot(R.x, R.z)) < 1e-9 && std::fabs(dot(R.y, R.z)) < 1e-9;
  const bool unit = std::fabs(norm(R.x) - 1) < 1e-9 && std::fabs(norm(R.y) - 1) < 1e-9 && std::fabs(norm(R.z) - 1) < 1e-9;
  if (!(finite(R.x) && finite(R.y) && finite(R.z) && right_angled && unit))
    throw Refused(key + " rotation", shown(R.x) + " " + shown(R.y) + " " + shown(R.z), "axes of length 1 at right angles");
  if (dot(cross(R.x, R.y), R.z) < 0) throw Refused(key + " rotation", "a reflection", "a right-handed frame");
}

void check_inertia(const std::string& key, const Inertia& body) {
  check_finite(key + " mass", body.mass);
  if (body.mass < 0) throw Refused(key + " mass", told(body.mass, " kg"), "0 kg or more");
  if (!finite(body.centre)) throw Refused(key + " centre of gravity", shown(body.centre), "finite numbers");
  Eigen::Matrix3d tensor;
  tensor << body.xx, body.xy, body.xz, body.xy, body.yy, body.yz, body.xz, body.yz, body.zz;
  if (!tensor.allFinite()) throw Refused(key + " inertia", "a number that is not finite", "finite numbers");
  const Eigen::Vector3d moments = Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(tensor, Eigen::EigenvaluesOnly).eigenvalues();
  const double slack = 1e-6 * std::fabs(moments[2]);
  if (moments[0] < -slack || moments[0] + moments[1] < moments[2] - slack)
    throw Refused(key + " inertia", told("principal moments ", moments[0], ", ", moments[1], ", ", moments[2], " kg m²"),
                  "moments of 0 or more, none larger than the sum of the other two");
}

void check_motion_limits(const std::string& key, double speed, double acceleration, double jerk) {
  if (!(speed > 0)) throw Refused(key + " speed", told(speed), "more than 0");
  if (!(acceleration > 0)) throw Refused(key + " acceleration", told(acceleration), "more than 0");
  if (!(jerk > 0)) throw Refused(key + " jerk", told(jerk), "more than 0");
}

void check_joint(const std::string& key, const JointSpec& joint) {
  check_pose(key + " placement", joint.placement);
  check_unit(key + " axis", joint.axis);
  if (std::isnan(joint.lower) || std::isnan(joint.upper) || !(joint.lower < joint.upper))
    throw Refused(key + " range", told(joint.lower, " to ", joint.upper), "a lower limit below the upper");
  if (joint.kind == JointKind::prismatic && !(std::isfinite(joint.lower) && std::isfinite(joint.upper)))
    throw Refused(key + " range", told(joint.lower, " to ", joint.upper), "two ends: a prismatic joint needs a stroke");
  if (!(joint.torque_continuous >= 0)) throw Refused(key + " continuous torque", told(joint.torque_continuous), "0 or more");
  if (!(joint.torque_peak >= joint.torque_continuous))
    throw Refused(key + " peak torque", told(joint.torque_peak), told("at least the continuous torque, ", joint.torque_continuous));
  check_motion_limits(key, joint.speed, joint.acceleration, joint.jerk);
}

void check_cell(const CellSpec& cell) {
  const auto& joints = cell.arm.joints;
  const std::size_t count = joints.size() + (cell.track ? 1 : 0);
  if (joints.empty() || count > max_joints) throw Refused("joints", told(count), told("1 to ", max_joints));
  if (cell.arm.links.size() != joints.size()) throw Refused("links", told(cell.arm.links.size()), told("one for each of ", joints.size(), " joints"));
  for (const auto& joint : joints) check_joint("joint '" + joint.name + "'", joint);
  for (const auto& link : cell.arm.links) {
    check_inertia("link '" + link.name + "'", link.inertia);
    check_pose("link '" + link.name + "' frame", link.told_frame);
  }
  check_pose("flange", cell.arm.flange);
  check_pose("mount", cell.mount);
  check_pose("tool point", cell.tool.tool_point);
  check_inertia("tool '" + cell.tool.name + "'", cell.tool.inertia);
  if (cell.load) check_inertia("load '" + cell.load->name + "'", cell.load->inertia);
  if (!finite(cell.gravity)) throw Refused("gravity", shown(cell.gravity), "finite numbers");
  if (cell.track) {
    const auto& t = *cell.track;
    check_pose("track pose", t.pose);
    check_unit("track axis", t.axis);
    if (!(std::isfinite(t.lower) && std::isfinite(t.upper) && t.lower <= t.upper))
      throw Refused("track stroke", told(t.lower, " to ", t.upper, " m"), "two finite ends, the lower first");
    check_inertia("carriage", t.carriage.inertia);
    if (!(t.force_continuous >= 0)) throw Refused("track continuous force", told(t.force_continuous), "0 or more");
    if (!(t.force_peak >= t.force_continuous))
      throw Refused("track peak force", told(t.force_peak), told("at least the continuous force, ", t.force_continuous));
    check_motion_limits("track", t.speed, t.acceleration, t.jerk);
  }
}

}  // namespace armwright
