#pragma once

#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/limits/static_payload.hpp"
#include "armwright/model/target_spec.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// What makes one posture better than another.
enum class Merit : std::uint8_t { limit_margin, clearance, payload, manipulability, clearance_spare };

struct TargetRequest {
  Limit limit = Limit::continuous;
  double angle_step = 0.2617993877991494;  ///< rad: first spacing over spins and tilts; narrowed as needed
  std::vector<Merit> order{Merit::limit_margin, Merit::clearance, Merit::payload, Merit::manipulability};
};

/// How far a work point comes along: each later word means that the earlier demands can be met.
enum class Outcome : std::uint8_t { out_of_reach, beyond_limits, obstructed, overloaded, served };

struct TargetAnswer {
  Outcome outcome = Outcome::out_of_reach;
  std::array<double, max_joints> q{};  ///< best posture; where the outcome is worse, the one that fails by least
  bool has_posture = false;            ///< false: out of reach
  double limit_margin = 0, manipulability = 0;
  Clearance clearance{};
  double clearance_spare = 0;  ///< distance beyond what is to be kept, m; worked out only where the order asks for it
  Obstacle obstacle{};       ///< obstructed: what stands in the way; the nearest if it is overlapped
  StaticPayload payload{};
  std::size_t postures = 0;  ///< postures found that serve it
  double shortfall = 0;      ///< out of reach: how far the point must move to be reached, m; positive outwards of it
  bool too_near = false;     ///< out of reach because it is too near
  std::int32_t limit_joint = -1;  ///< beyond limits: the joint
  double excess = 0;              ///< beyond limits: by how much, rad or m
  std::int8_t free_joint = -1;
};

/// Best posture for each work point; where there is none, what stands in the way and by how much. Among the
/// postures found that meet all demands the best by `order` is taken: merits are compared in coarse steps, so that a
/// later one decides where earlier ones are about equal; the best is then drawn finer. Empty if it was cancelled.
std::vector<TargetAnswer> check_targets(const PostureSearch& search, std::span<const TargetSpec> targets, const TargetRequest& request,
                                        unsigned threads, const Progress& progress);

}  // namespace armwright
