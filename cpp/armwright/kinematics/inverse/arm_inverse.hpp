#pragma once

#include <array>
#include <memory>
#include <span>
#include <vector>

#include "armwright/kinematics/inverse/few_joints.hpp"
#include "armwright/kinematics/inverse/inverse.hpp"
#include "armwright/model/model.hpp"

namespace armwright {

/// One answer for a whole arm, track included.
struct ArmSolution {
  std::array<double, max_joints> q{};  ///< rad and m; revolute joints within their range where whole turns allow
  std::int8_t free_joint = -1;         ///< joint that may turn freely there, or -1
};

struct ArmSolutions {
  int count = 0;
  std::array<ArmSolution, max_solutions> solution;
};

/// The joints of an arm that are solved, the others held still: six that turn, which solve_six() solves, or what
/// solve_few() solves. One of the two setups is there.
struct HeldArm {
  std::vector<double> held;   ///< values of the redundant joints
  Pose base = identity_pose;  ///< the chain's base frame in the world
  std::shared_ptr<const InverseSetup> six;
  std::shared_ptr<const FewSetup> few;
};

struct KinArms;

/// What the inverse of a model needs, made once: of a general arm that takes tens of milliseconds. Constant after; shared by threads.
struct ArmInverse {
  Model model;
  std::vector<std::size_t> redundant;  ///< joints to be given: the track, and those beyond six; in order
  std::vector<std::size_t> solved;     ///< the others
  bool base_only = true;               ///< the redundant joints stand before all others: the setup does not depend on them
  HeldArm usual;                       ///< redundant joints at mid-range
  std::shared_ptr<KinArms> kin;        ///< made with it
};

/// Picks the joints to be given, so that at most six are left to be solved: sliding ones first, from the base out; then,
/// one at a time, the joint whose holding leaves the easiest family. At last the joints that add no freedom, as a track
/// under an arm that can move along it by itself. A track that does add one, under an arm of five joints or fewer, is
/// solved like any other joint, unless it is to be given in any case (`give_track`).
ArmInverse prepare_arm_inverse(const Model& model, bool give_track = false);

/// The same with the track given in any case: prepared when it is first asked for, and only where that is another arm.
std::shared_ptr<const ArmInverse> with_track_given(const std::shared_ptr<const ArmInverse>& inverse);

/// The inverse of the model with its track held at the middle of its stroke; nothing is prepared anew.
ArmInverse with_track_held(const ArmInverse& inverse);

/// Those joints alone, which is soon told: of a general arm of six joints the rest of the preparation takes tens of milliseconds.
std::vector<std::size_t> redundant_joints(const Model& model);

/// The most answers that solve_arm() gives for one target.
int most_solutions(const ArmInverse& inverse);

/// The joints to be solved, for given values of the others. Takes some microseconds for the closed forms, longer
/// for general arms, unless the redundant joints stand before all others.
HeldArm hold(const ArmInverse& inverse, std::span<const double> redundant);

/// All joint vectors that bring the tool frame to `target` (world), the redundant joints held as in `arm`. Joint limits do
/// not rule answers out; revolute joints are shifted by whole turns into their range, next to mid-range, where possible.
void solve_arm(const ArmInverse& inverse, const HeldArm& arm, const Pose& target, ArmSolutions& out);

/// For a batch of targets (rows × 16, row-major 4×4) and every combination of the redundant joints' values in `samples`
/// (each as long as there are redundant joints): `q` rows × k × joint_count, `valid` and `free_joint` rows × k, where
/// k = samples × most_solutions. With `within_limits`, answers outside the joint limits are not valid. Not valid: q is NaN.
void solve_batch(const ArmInverse& inverse, std::span<const std::vector<double>> samples, bool within_limits, std::span<const double> targets,
                 std::span<double> q, std::span<std::uint8_t> valid, std::span<std::int8_t> free_joint);

}  // namespace armwright
