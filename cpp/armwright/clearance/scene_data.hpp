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

/// Four boxes side by side: an axis-aligned box in its own frame each, around a solid that stands still.
struct StillGroup {
  Vector3<Lanes> centre;    ///< in the world
  Rotation3<Lanes> axes;    ///< of the box, in the world
  Vector3<Lanes> half;
  Lanes ball;               ///< radius about the centre, m
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
  std::vector<std::int32_t> frame;
  std::vector<StillGroup> groups;   ///< of the bounded still solids, in order
  std::vector<Lanes> left_out;      ///< [moving][group]: 0 for a pair to be looked at, +infinity for one that is not
  std::vector<Lanes> kept;          ///< [group]: the distance asked for by the still solid, m
  std::vector<Mask> exact;          ///< [moving][group]: the first stage's distance is the true one (a capsule or sphere and a box)
  std::vector<SolidPair> arm_pairs; ///< moving with moving, filled up to a multiple of four
  std::vector<Lanes> arm_left_out;  ///< [four pairs]: +infinity where it was filled up
  std::vector<Mask> arm_exact;
  std::vector<SolidPair> plane_pairs;  ///< moving with half-spaces
  bool tells_spare = false;  ///< distances are told less what each pair is to keep: see spare_scene()
  double spare_margin = 0;   ///< and that is the fixture's own clearance or this, m
};

/// Writes where the j-th of the bounded still solids is into its place among the groups.
void seat_in_group(Scene& scene, std::size_t j);

/// What a pair is to keep: the fixture's own clearance or `margin`, whichever is larger, m.
inline double required(const Scene& scene, const SolidPair& pair, double margin) {
  const double own = scene.solids[static_cast<std::size_t>(pair.b)].clearance;
  return own > margin ? own : margin;
}

struct Candidate {
  double bound;  ///< m, the true distance is no less
  SolidPair pair;
};

/// A distance short of the required one by no more than this, m, keeps it: rounding, not geometry. A grid and fixtures
/// told in whole millimetres often make them equal.
inline constexpr double just_kept = 1e-9;

/// Scratch of one thread; nothing in it outlives a call.
struct ClearanceWorkspace {
  std::vector<double> x, y, z, way_x, way_y, way_z;  ///< the moving segments, in the world
  std::vector<Lanes> bound;                                  ///< [moving][group]
  std::vector<Candidate> candidates;
  std::size_t candidate_count = 0;
};

/// What the first stage finds: an upper bound of the least distance and the pair that has it, if it is exact; the
/// candidates that may be nearer are in the workspace.
struct Screening {
  double best;
  SolidPair pair;  ///< (-1, -1) if none
};
Screening screen(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double cutoff);

/// The same for the yes/no question. True: clear as far as seen, the candidates in the workspace decide. False: a pair
/// is nearer than it may be.
bool screen_clear(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double margin);

inline Pose pose_of(const Solid& solid, const Pose* frames) { return solid.frame < 0 ? solid.pose : frames[solid.frame] * solid.pose; }

}  // namespace armwright
