#pragma once

#include <array>
#include <cstdint>

#include "armwright/kinematics/inverse/arc_tangent.hpp"
#include "armwright/kinematics/inverse/six_chain.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"
#include "armwright/support/lanes.hpp"
#include "armwright/support/sin_cos.hpp"

namespace armwright {

/// The answers of a closed form before they are checked, in fours: pack p holds branches 4p .. 4p + 3.
struct Branches {
  static constexpr std::size_t packs = 4;
  struct Pack {
    std::array<std::array<double, 4>, 6> q;  ///< rad, in [-pi, pi]
    std::array<double, 4> miss;              ///< squared: m² and rad² together, on the ideal geometry
    std::array<std::int8_t, 4> free_joint;
    bool refined;  ///< `miss` is on the exact chain
  };
  std::array<Pack, packs> pack;
  std::size_t count = 0;       ///< packs in use
  bool may_coincide = false;   ///< some of them stand near a double answer
  bool arm_free = false;       ///< joint 1 or 2 of a spherical arm is free to turn, and was set
  double worth_polishing = 0;  ///< squared misfit up to which a branch may stand for an answer
};

/// Angles of the closed form to joint values, whole turns taken off: q = sign · (angle - shift).
struct JointAngles {
  std::array<double, 6> sign{}, shift{};
  std::array<Turn<double>, 6> at_zero{};  ///< the angles of the closed form at q = 0
};

ARMWRIGHT_INLINE Lanes joint_value(const JointAngles& joints, std::size_t i, Lanes angle) {
  const Lanes q = Lanes(joints.sign[i]) * (angle - Lanes(joints.shift[i]));
  return q - Lanes(6.283185307179586476925) * detail::nearest(q * Lanes(0.15915494309189533577));
}

ARMWRIGHT_INLINE void store(Lanes x, std::array<double, 4>& to) {
  for (std::size_t k = 0; k < Lanes::width; ++k) to[k] = x[k];
}

/// The angles of the closed form with every joint at that value.
std::array<Turn<double>, 6> turns_of_value(const JointAngles& joints, double value);

/// One Newton step on the exact chain for the four branches of a pack at once; sets their misfit to what is left. A
/// branch stays where the step would be long or makes it worse, as near singular postures.
void refine_pack(const SixChain& chain, const Pose& target, bool mirrored, Branches::Pack& pack);

}  // namespace armwright
