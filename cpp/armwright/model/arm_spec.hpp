#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "armwright/model/drive_spec.hpp"
#include "armwright/model/shape_spec.hpp"
#include "armwright/spatial/inertia.hpp"

namespace armwright {

enum class JointKind : std::uint8_t { revolute, prismatic };

inline constexpr double unlimited = std::numeric_limits<double>::infinity();

/// A joint and what it can hold. Units: rad and N m for a revolute joint, m and N for a prismatic one.
struct JointSpec {
  std::string name;
  JointKind kind = JointKind::revolute;
  Pose placement = identity_pose;  ///< joint frame in the frame of the link before, at zero
  Vec3 axis{0, 0, 1};              ///< unit vector in the joint frame; the link's frame is the joint's, moved
  double lower = -unlimited, upper = unlimited;
  double torque_continuous = unlimited;  ///< what it can hold for any time
  double torque_peak = unlimited;        ///< what it can hold for a short time
  double speed = unlimited, acceleration = unlimited, jerk = unlimited;  ///< greatest allowed, rad/s, rad/s², rad/s³ (m)
  std::optional<DriveSpec> drive;        ///< what turns it; the torques above, where finite, hold besides
};

struct LinkSpec {
  std::string name;
  Pose told_frame = identity_pose;  ///< the frame that link poses are told of, in the link's frame (a DH row's frame, say)
  Inertia inertia;                ///< in the link's frame
  std::vector<ShapeSpec> shapes;  ///< poses in the link's frame
};

/// An arm: joint i moves link i. `base_link` stands still on the mount, which its mass loads, or rides on a track's carriage.
struct ArmSpec {
  std::string name;
  LinkSpec base_link;
  std::vector<JointSpec> joints;
  std::vector<LinkSpec> links;
  Pose flange = identity_pose;  ///< tool flange in the last link's frame
  std::vector<double> coupling;   ///< see Coupling, for the arm's joints, row-major; empty: none
  std::vector<SpringSpec> springs;
};

}  // namespace armwright
