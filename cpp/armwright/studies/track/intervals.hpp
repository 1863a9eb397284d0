#pragma once

#include <span>
#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/limits/static_payload.hpp"
#include "armwright/model/target_spec.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// A stretch of the track from all of which a work point is served, and the posture with most room to the joint limits at its
/// middle.
struct TrackInterval {
  double lower, upper;  ///< m
  std::array<double, max_joints> q{};
};

struct TrackIntervalRequest {
  Limit limit = Limit::continuous;
  double margin = 0;                       ///< clearance required, m
  double turn_step = 0.2617993877991494;   ///< rad: first spacing over spins, tilts and joints beyond what a pose needs
  double slide_step = 0.1;                 ///< m: spacing over sliding joints of the arm beyond what a pose needs
  double scan_step = 5e-3;                 ///< m: first spacing along the track; halved wherever something may change between
};

/// For each work point all positions of the track from which it is served, in order, as stretches whose ends are found to 0.01 mm:
/// in some attitude of its freedom, within the joint limits, clear of `scene` (null: clearance does not count), holding its load.
///
/// For one attitude each answer of the inverse is followed along the track: where what it has to spare (to the joint limits, to
/// the nearest solid, to the torque limits) could change sign between two positions, they are halved, down to 0.1 mm for a change
/// and back, to 0.001 mm for an end. Spins, tilts and joints beyond what a pose needs are tried a step apart, and each end is then
/// driven outwards by a search over them. What this may miss: a stretch, or a gap, shorter than 0.1 mm; one shorter than the scan
/// step that no answer outside it foretells, as where the arm just touches the end of its reach; with freedom of attitude or such
/// joints, a stretch served only in attitudes, or with values of those joints, that all lie between those tried. The point's
/// position tolerance is not used. Empty if it was cancelled.
std::vector<std::vector<TrackInterval>> track_intervals(const std::shared_ptr<const ArmInverse>& inverse, std::shared_ptr<const Scene> scene,
                                                        std::span<const TargetSpec> targets, const TrackIntervalRequest& request,
                                                        unsigned threads, const Progress& progress);

}  // namespace armwright
