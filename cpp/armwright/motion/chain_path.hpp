#pragma once

#include <span>
#include <vector>

#include "armwright/motion/follow.hpp"

namespace armwright {

/// One stretch of a way without a stop in it: a straight line in joint space, or a tool path.
struct Leg {
  std::int32_t move = 0;
  bool by_tool = false;
  bool track_only = false;  ///< joint leg: of `to` the track counts, the arm stays
  std::vector<double> to;   ///< joint leg: where it ends
  Pose tool_to = identity_pose;  ///< tool leg
  Vec3 via{0, 0, 0};
  bool round = false;       ///< an arc through `via`
  double track_to = 0;      ///< tool leg, m; NaN: stays
  double blend = 0;         ///< into the next leg, m at the tool point; the last one's does not count
};

/// Grid of a path, in intervals.
struct PathGrid {
  int leg = 64, blend = 48;
};

/// A leg placed in its chain: local parameter from 0 to `extent`, of which [begin, end] is kept between the blends.
struct PlacedLeg {
  Leg leg;
  std::vector<double> from, to;
  Followed followed;          ///< of a tool leg
  double extent = 0, begin = 0, end = 0;
  double scale = 1, offset = 0;  ///< chain parameter = offset + scale · (local − begin)
  PathRows rows;              ///< at the grid between begin and end; s, first, second by the local parameter
};

/// A corner between two legs: the polynomial of fifth degree, joint by joint, that continues q, q' and q'' at both ends.
struct Corner {
  double offset = 0, extent = 0;        ///< chain parameter
  std::vector<double> coefficients;     ///< joints × 6, by the share 0 to 1
};

/// Legs one after the other, blended at their joints. A corner leaves the leg before it and joins the one after it within the blend
/// distance of their common end, measured at the tool point, and keeps within that distance between; no corner takes more than half of a leg.
struct ChainPath {
  std::vector<PlacedLeg> legs;
  std::vector<Corner> corners;          ///< one fewer than legs
  PathRows rows;                        ///< the whole at its grid
  std::vector<double> end;              ///< posture at the end
};

/// Legs without motion are left out; a chain may be empty then. `start`: posture at the beginning, within the joints' ranges.
/// `inverse` may be null if no leg is by tool.
PathStop build_chain(const Model& model, const ArmInverse* inverse, std::span<const double> start, std::span<const Leg> legs,
                     const PathGrid& grid, ChainPath& out);

/// The chain at rising parameters, from 0 to its last; by the inverse again where a leg is by tool.
PathStop sample_chain(const Model& model, const ArmInverse* inverse, const ChainPath& chain, std::span<const double> s, PathRows& out);

}  // namespace armwright
