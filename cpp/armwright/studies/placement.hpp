#pragma once

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "armwright/clearance/postures.hpp"
#include "armwright/clearance/surroundings.hpp"
#include "armwright/limits/static_payload.hpp"
#include "armwright/model/target_spec.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// What a posture at a work point is judged by: the limit margin (1), the distance to solids beyond what is to be kept (m),
/// the mass held beyond what is wanted (kg).
enum class Measure : std::uint8_t { limit_margin, clearance, payload };
inline constexpr std::size_t measure_count = 3;
using Measures = std::array<double, measure_count>;

struct PlaceRequest {
  Limit limit = Limit::continuous;
  double margin = 0;                               ///< clearance required, m
  double turn_step = 0.2617993877991494;           ///< rad, between values tried of a joint beyond what a pose needs
  double slide_step = 0.05;                        ///< m, likewise; a track, if it is all that is to be given, four times as far apart at first
  bool parked = false;                             ///< the track stands still, at what each place tells
  std::array<bool, measure_count> wanted{true, false, false};  ///< the measures that postures are chosen by and told of
};

/// A place to be tried: where the stand is moved to, told in the world (the stand's new pose · its old one inverted); and
/// where on its track the arm is parked, m, if it is.
struct Place {
  Pose shift = identity_pose;
  double track = 0;
};

/// Of one place. `worst[m][k]`: the least over the points served of measure k, each point in its best posture by measure m;
/// not a number for a measure that is not wanted, or where nothing is served.
struct PlaceScore {
  std::int32_t served = -1;  ///< points; -1: the stand overlaps something, or stands in a zone
  double lacking = 0;        ///< how far the points not served are from it, summed; grows with each reason, see placement.cpp
  std::array<Measures, measure_count> worst{};
};

/// What all places share; constant, shared by threads.
struct PlaceSetup {
  std::shared_ptr<const Model> model;
  PostureSearch search;                               ///< its samples stand in `levels`
  std::vector<std::vector<HeldArm>> levels;           ///< coarse ones, then those between them
  std::shared_ptr<const ArmInverse> spun;             ///< see spun_arm()
  std::vector<std::shared_ptr<const Scene>> scenes;   ///< one for each load carried; with what is spare where clearance is wanted
  std::vector<std::size_t> scene_of;                  ///< for each target
  std::vector<StandPair> stand;
  std::vector<Solid> zones;                           ///< in the world; the stand must be clear of them
  std::vector<TargetSpec> targets;
  std::vector<std::vector<double>> others;            ///< parked: values of the other joints beyond what a pose needs
  PlaceRequest request;
};

/// `scenes`: for each target the solids, with what is carried there. `going_along`: names of fixtures that move with the stand.
/// Throws Refused for a zone that is no solid.
PlaceSetup make_place_setup(const std::shared_ptr<const ArmInverse>& inverse, std::span<const std::shared_ptr<const Scene>> scenes,
                            std::span<const TargetSpec> targets, std::span<const ShapeSpec> zones,
                            std::span<const std::string> going_along, const PlaceRequest& request);

/// Scores every place: each work point in attitudes of its freedom `angle_step` (rad) apart, in every answer of the inverse that
/// keeps the joint limits, is clear of the solids and holds the load; with a track at coarse steps and, while the point is not served
/// (`thorough`: in any case), between them. The point's position tolerance is not used. All is worked out as seen from the stand, so
/// that the inverse is prepared once and the fixtures, the targets and gravity move. Empty if it was cancelled.
std::vector<PlaceScore> score_places(const PlaceSetup& setup, std::span<const Place> places, double angle_step, bool thorough, unsigned threads,
                                     const Progress& progress);

}  // namespace armwright
