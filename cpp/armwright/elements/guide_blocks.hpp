#pragma once

#include <Eigen/Core>
#include <span>

namespace armwright {

// Guide axes: x along the track, z out of the rails' mounting plane ("up"), y = z × x across; origin at the carriage frame's origin.

/// Where the middle of a block sits, m, in guide axes.
struct BlockPlace {
  double along, across, up;
};

/// What a block puts on its rail, N and N m, in guide axes.
struct BlockLoad {
  double radial;            ///< pressed onto the rail positive, lifted off it negative
  double lateral;           ///< along y
  double roll, pitch, yaw;  ///< about x, y, z: only what point supports at all blocks' places cannot carry
};

/// Loads of N blocks from a wrench, 5 N × 6: a block's five rows in the order of BlockLoad.
using BlockMap = Eigen::Matrix<double, Eigen::Dynamic, 6>;

/// Around which axes the blocks have to bear a moment of their own.
struct GuideLayout {
  BlockMap map;
  bool roll = false, pitch = false, yaw = false;
};

/// Rigid carriage on equal linear springs, one radial and one lateral at each block, the rails rigid: of all loads that balance
/// the wrench the ones of least elastic energy. Any number of blocks at any places. A turn that no spring resists (about the
/// line of the blocks of one rail, or of one block on each; every turn of a single block) is resisted by the blocks' own
/// stiffness against tilting, alike for all: they share its moment evenly. For equal springs of two by two blocks this is
/// F/4 ± (F/2)(b/c) ± (F/2)(a/d) of the makers' tables of linear guides.
/// The wrench is what the carriage puts on rails and feed, about the origin. Its force along x goes into the feed at `feed_across`,
/// `feed_up` (m): the blocks bear the moment of that offset.
GuideLayout block_map(std::span<const BlockPlace> places, double feed_across, double feed_up);

}  // namespace armwright
