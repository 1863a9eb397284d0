#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "armwright/clearance/pairs.hpp"
#include "armwright/clearance/scene.hpp"

namespace armwright {

/// A solid and what carries it.
struct Solid {
  Shape shape;
  std::int32_t frame = -1;  ///< index of the joint frame it moves with; -1: it stands still
  Pose pose;                ///< in that joint frame, or in the world
  std::int32_t name = 0;    ///< index into solid_names
  double clearance = 0;     ///< m, to be kept from it
  bool of_stand = false;    ///< it stands still with the arm, as the base or the rails: see surroundings.hpp
};

/// Two solids to be looked at, as indices into Scene::solids; the first one moves.
struct SolidPair {
  std::int32_t a, b;
};

/// What stands between two solids of the list of pairs.
enum class Pairing : std::uint8_t {
  left_out,  ///< not to be looked at
  bounded,   ///< the first stage's distance is a lower bound
  round,     ///< ... is the true one: a capsule or sphere and another, or a box
};

/// A box around a solid that stands still, in its own frame.
struct StillBox {
  Vec3 centre;    ///< in the world
  Rotation axes;  ///< of the box, in the world
  Vec3 half;
  double radius;  ///< of the ball around it, m
  double kept;    ///< m, the distance asked for by the solid
};

/// The ball around a still box, or around all boxes of a branch of the tree over them, kept as the numbers of a test without a
/// root: a ball of radius t about c comes nearer than touching if
///   offset + minus_twice_centre · c + minus_twice_radius t < t² - c · c,
/// which is (t + radius)² > |c - centre|² in another order.
struct StillBall {
  Vec3 minus_twice_centre;
  double offset, minus_twice_radius;            ///< of the ball
  double kept_offset, kept_minus_twice_radius;  ///< of the ball and what is kept about it
  std::int32_t next;   ///< of a branch: the one to go on with where nothing of this one is near
  std::int32_t which;  ///< of a box: its number; of a branch: the place of its first ball, none_below if it has branches below it
};
inline constexpr std::int32_t none_below = -1;

/// A tree over the still boxes, in flat arrays. A branch stands before all below it, so that it is gone through without a stack.
/// Boxes that are solids themselves, whose distances are told exactly, have a tree of their own, which comes first.
struct StillTree {
  static constexpr std::int32_t run = 8;  ///< balls below a lowest branch, but for the last ones
  std::vector<StillBall> branches;  ///< none, where the boxes are few
  std::vector<StillBall> balls;
  std::int32_t true_branches = 0, true_balls = 0;  ///< the first so many are of solids that are boxes
  std::int32_t end(std::int32_t first) const {
    const std::int32_t all = first < true_balls ? true_balls : static_cast<std::int32_t>(balls.size());
    return first + run < all ? first + run : all;
  }
};

struct Scene {
  std::vector<std::string> names;
  std::vector<Solid> solids;        ///< moving ones first, then those that stand still and have bounds, then half-spaces
  std::size_t moving = 0;           ///< how many move
  std::size_t bounded = 0;          ///< how many stand still and have bounds
  std::vector<std::pair<std::string, std::string>> touching;

  // For the first stage, all told in flat arrays. A moving solid is a segment with a radius in its joint frame.
  std::vector<Vec3> segment_centre, segment_half;
  std::vector<double> segment_radius, segment_ball;  ///< around the segment, around its centre, m
  std::vector<double> segment_square;                ///< of half its length, m²
  std::vector<std::int32_t> frame;
  std::size_t frames_used = 0;        ///< the first so many joint frames carry all that moves
  std::vector<StillBox> still;        ///< of the bounded still solids, in order
  StillTree tree;                     ///< over them
  double extent_square = 0;           ///< no still box reaches farther from the world's origin, m²
  std::vector<Pairing> still_pairs;   ///< [moving][bounded]
  bool has_bounded = false;           ///< some of them are
  std::vector<SolidPair> arm_pairs;   ///< moving with moving
  std::vector<Pairing> arm_pairing;   ///< of each of them
  std::vector<SolidPair> plane_pairs; ///< moving with half-spaces
  bool tells_spare = false;  ///< distances are told less what each pair is to keep: see spare_scene()
  double spare_margin = 0;   ///< and that is the fixture's own clearance or this, m
};

/// Writes where the j-th of the bounded still solids is into its place among the boxes. bound_tree() is to follow.
void seat(Scene& scene, std::size_t j);
/// Shares the still boxes out among the branches of a tree, and bounds these.
void grow_tree(Scene& scene);
/// Bounds the branches anew, of boxes that have been moved.
void bound_tree(Scene& scene);

/// What a pair is to keep: the fixture's own clearance or `margin`, whichever is larger, m.
inline double required(const Scene& scene, const SolidPair& pair, double margin) {
  const double own = scene.solids[static_cast<std::size_t>(pair.b)].clearance;
  return own > margin ? own : margin;
}

/// What is taken off a distance as it is told, where the solid itself asks for `own`, m: see spare_scene().
inline double taken_off(const Scene& scene, double own) {
  if (!scene.tells_spare) return 0;
  return own > scene.spare_margin ? own : scene.spare_margin;
}

/// A distance short of the required one by no more than this, m, keeps it: rounding, not geometry. A grid and fixtures
/// told in whole millimetres often make them equal.
inline constexpr double just_kept = 1e-9;

inline Pose pose_of(const Solid& solid, const Pose* frames) { return solid.frame < 0 ? solid.pose : frames[solid.frame] * solid.pose; }

}  // namespace armwright
