#pragma once

#include <cstdint>
#include <memory>

#include "armwright/kinematics/inverse/few/axis_methods.hpp"
#include "armwright/kinematics/inverse/setup.hpp"

namespace armwright {

/// One to six joints in a row, revolute or prismatic, as SixChain tells six revolute ones.
struct FewChain {
  Pose base = identity_pose;
  std::size_t joint_count = 0;  ///< 1 to 6
  std::array<JointStep, 6> step{};
  Pose end = identity_pose;
};

enum class FewMethod : std::uint8_t {
  axes,           ///< by the directions of the axes: closed forms, complete, wherever three directions of turning axes or a
                  ///< spherical wrist allow; two slides and four directions by a sweep. See few/axis_methods.hpp.
  six_revolute,   ///< revolute joints only, made six by joints that stay at 0: solve_six(). All answers.
  ring,           ///< one prismatic joint: the elimination of solve_general(). All answers, but for arms whose every way of
                  ///< cutting the ring is in doubt; not `complete` then.
  newton          ///< anything else, as arms with more joints than freedoms: from many starts. May miss answers.
};

/// What is computed once. Constant after.
struct FewSetup {
  std::size_t joint_count = 0;
  FewMethod method = FewMethod::newton;
  bool complete = false;    ///< whether the method finds all answers
  SixChain chain;           ///< the joints, and behind them revolute ones that stay at 0
  unsigned held = 0;        ///< those, a bit each
  double size = 1;          ///< m
  std::shared_ptr<const AxisSetup> axes;    ///< for `axes`
  GeneralSetup ring{};      ///< for `ring`
  std::shared_ptr<const InverseSetup> six;  ///< for `six_revolute`
};

FewSetup prepare_few(const FewChain& chain);

/// All joint vectors that bring the end frame to `target` within 1e-9 m and 1e-9 rad; entries beyond joint_count are 0.
/// An arm of fewer than six joints reaches few poses exactly: all others have no answer. free_joint, `free_value` (rad
/// or m): as solve_six().
void solve_few(const FewSetup& setup, const Pose& target, Solutions& out, double free_value = 0);

}  // namespace armwright
