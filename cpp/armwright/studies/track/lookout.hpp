#pragma once

#include <memory>
#include <vector>

#include "armwright/clearance/scene.hpp"
#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/model/target_spec.hpp"
#include "armwright/studies/track/intervals.hpp"
#include "armwright/studies/track/stand.hpp"

namespace armwright::track {

/// An attitude within a work point's freedom, with the joints beyond what a pose needs held.
struct Choice {
  Vec3 direction;                       ///< of the tool's axis, in the world
  double spin;                          ///< about it, rad
  std::array<double, max_joints> held;  ///< of Setting::beyond, in order; rad or m
};

/// What all work points share.
struct Setting {
  std::shared_ptr<const Model> model;
  std::shared_ptr<const ArmInverse> inverse, spun;
  std::shared_ptr<const ArmInverse> sliding;  ///< where an attitude takes the track: the inverse that solves for it; else null
  std::shared_ptr<const Scene> spare;  ///< distances less what is to be kept; null: clearance does not count
  std::vector<std::size_t> beyond;     ///< the joints beyond what a pose needs, but for the track
  std::vector<std::vector<double>> values;  ///< those of them that are tried
  Vec3 along;                          ///< of the track, in the world
  double reach = 0;                    ///< no tool point lies farther than this from the first arm axis' frame, m
  TrackIntervalRequest request;
};

/// Looks at one work point from positions of the track.
class Lookout {
 public:
  Lookout(const Setting& setting, const TargetSpec& target);

  /// The attitudes that are tried, `step` rad apart.
  std::vector<Choice> choices(double step) const;
  /// Those about one, `angle` away in spin, tilt and the joints beyond what a pose needs together (their m count as rad), within
  /// freedom and ranges; other ones for every `round`.
  std::vector<Choice> neighbours(const Choice& centre, double angle, int round) const;
  /// Everything about one choice with the track at one position.
  void look(const Choice& choice, double at, Sample& out);
  bool serves(const Choice& choice, double at);
  /// Where an attitude takes the track: the positions at which it serves, m. Few, and alone.
  std::vector<double> single_positions(const Choice& choice);
  /// What the best answer of a choice has to spare there: the least of joint limits (rad or m), solids (m) and torques (a share).
  /// −infinity where there is none, or it is far past a limit.
  double spare(const Choice& choice, double at);

 private:
  Pose pose_of(const Choice& choice, double spin) const;
  const HeldArm& arm_of(const Choice& choice, double at);
  void add_stands(const HeldArm& arm, const Pose& pose, Sample& out);
  void judge(Stand& stand);
  double torque_left(const double* own, const double* per_kilogram) const;

  const Setting& setting_;
  const Model& model_;
  const TargetSpec& target_;
  Vec3 centre_;  // of the load, in the last joint frame
  std::shared_ptr<ClearanceWorkspace> work_;
  ArmSolutions solutions_;
  Sample scratch_;
  HeldArm arm_;                ///< made for `held_`, the track at 0
  std::vector<double> held_;
  HeldArm placed_;             ///< the same with the track where it is looked from
};

}  // namespace armwright::track
