#pragma once

#include <cstdint>
#include <optional>

#include "armwright/kinematics/inverse/few/grouped.hpp"
#include "armwright/kinematics/inverse/few/sweep.hpp"
#include "armwright/kinematics/inverse/few/wrist.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"

namespace armwright {

/// The ways to solve a chain that work on its axes; see grouped.hpp, wrist.hpp and sweep.hpp for what each finds.
enum class AxisMethod : std::uint8_t {
  wrist,     ///< six joints with slides among the first three, the last three axes meet
  shoulder,  ///< the same walked from the end
  groups,    ///< three directions of turning axes at most
  sweep      ///< four
};

struct AxisSetup {
  AxisMethod method{};
  AxisChain chain;
  Groups groups;
  std::optional<SlidingWrist> wrist;  ///< wrist; shoulder: of the chain walked from its end
  SweptJoints swept;
};

/// Nothing where none of them serves, as where there are more joints than freedoms, or where solve_six() with joints added
/// is the better way (turning joints only, in three directions).
std::optional<AxisSetup> prepare_axes(AxisChain chain);

/// Whether all answers are found, poses that are singular for the method aside (grouped.hpp).
inline bool is_complete(const AxisSetup& setup) { return setup.method != AxisMethod::sweep; }

/// All answers that the method finds, each fitted to the pose and checked. A joint that may move without moving the end is
/// named, and stands at `free_value` if the others allow, or as near to it as they let it go.
void solve_axes(const AxisSetup& setup, const Pose& target, double free_value, Solutions& out);

}  // namespace armwright
