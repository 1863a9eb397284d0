#pragma once

#include <array>

#include "armwright/kinematics/inverse/six_chain.hpp"

namespace armwright {

/// A six-joint arm that holds its target is a closed ring of six axes, the target standing for the link between the
/// last axis and the first:  G0·Rz(t0) · G1·Rz(t1) · ... · G5·Rz(t5) = 1,  t = q + zero.
/// Lengths are divided by the arm's size. A prismatic joint stands in the ring as Tz(t), t = q / size, with its constant
/// turn in the link before it.
struct Loop {
  std::array<Pose, 6> link;
  std::array<bool, 6> slides{};  ///< whether the joint after link i is prismatic
};

/// Where the ring is cut open, and which way it is walked. Roles of the six joints after it, in this order:
///   0, 1: eliminated first (their sines and cosines enter linearly);
///   2: the joint whose angle is searched; 3, 4: found from the null vector; 5: drops out, found last.
/// Prismatic joints may play 0, 3 and 4.
struct Labelling {
  int shift = 0;
  bool reversed = false;

  /// Which joint of the arm plays the role.
  int joint(int role) const { return reversed ? 5 - (shift + role) % 6 : (shift + role) % 6; }
  double sign() const { return reversed ? -1.0 : 1.0; }
  /// Whether the link that holds the target lies among those that the searched half of the ring does not contain.
  bool left_is_constant() const { return shift == 0 || shift == 5; }
  /// Counts those.
  std::size_t tensor_index() const { return (shift == 0 ? 0U : 1U) + (reversed ? 2U : 0U); }
};

/// Pure turn about z.
inline Rotation turn_z(double cosine, double sine) { return {{cosine, sine, 0}, {-sine, cosine, 0}, {0, 0, 1}}; }

/// The link of joint i alone, without its motion.
inline Pose link_of(const JointStep& step) {
  const double c = step.cos_alpha, s = step.sin_alpha;
  const Pose link{{{1, 0, 0}, {0, c, s}, {0, -s, c}}, step.offset};
  return step.kind == JointKind::revolute ? link : link * Pose{turn_z(step.cos_zero, step.sin_zero), {0, 0, 0}};
}

/// The ring for one target.
inline Loop make_loop(const std::array<Pose, 6>& links, const std::array<bool, 6>& slides, const Pose& end, const Pose& target,
                      double size) {
  Loop loop{links, slides};
  const Pose scaled_end{end.rotation, (1 / size) * end.position};
  const Pose scaled_target{target.rotation, (1 / size) * target.position};
  loop.link[0] = scaled_end * inverse(scaled_target) * links[0];
  return loop;
}

/// The same ring, with its links in the order of the roles.
inline Loop relabelled(const Loop& loop, Labelling labelling) {
  Loop result;
  for (int role = 0; role < 6; ++role) {
    const int i = (labelling.shift + role) % 6;
    result.slides[static_cast<std::size_t>(role)] = loop.slides[static_cast<std::size_t>(labelling.joint(role))];
    result.link[static_cast<std::size_t>(role)] =
        labelling.reversed ? inverse(loop.link[static_cast<std::size_t>((6 - i) % 6)]) : loop.link[static_cast<std::size_t>(i)];
  }
  return result;
}

}  // namespace armwright
