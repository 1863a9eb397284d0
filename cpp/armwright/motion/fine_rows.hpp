#pragma once

#include "armwright/motion/chain_motion.hpp"

namespace armwright {

/// A motion along a chain looked at between its rows: at three instants spread evenly over each way between two rows, and just before
/// and after an axis turns back there (friction and power turn round). The motion is the exact one: s̈ goes straight from row to row.
struct FineRows {
  PathRows path;
  std::vector<double> time, x, u;     ///< s, ṡ², s̈
  std::vector<std::size_t> after;     ///< the motion's row before
  std::vector<std::uint8_t> spread;   ///< 0: beside a place where an axis turns back
  std::vector<NamedLimit> use;        ///< the limit that is used most
  std::vector<double> peak;           ///< the use that may be reached between the motion's rows about here: see set_uses()
  std::vector<double> missed;         ///< by how much resampling the motion's rows (see sample_motion()) misses speed or acceleration here, as a
                                      ///< share of the greatest of that joint in the motion
};

/// Why the way is lost between rows, if it is. `look`: for each row whether the way after it is looked at; empty: all are.
PathStop fine_rows(const Model& model, const ArmInverse* inverse, const ChainPath& chain, const CycleSpec& cycle, const ChainMotion& motion,
                   const std::vector<std::uint8_t>& look, FineRows& out);

/// Their uses anew, and the peaks of parabolas through the three instants of each way: of each joint's speed and acceleration, and of
/// the limit that is used most.
void set_uses(const Model& model, const CycleSpec& cycle, FineRows& fine);

/// Adds rows to the chain's grid between the motion's rows wherever a limit is passed by more than the share `passed`, or resampling
/// misses by more than `missed`. How many.
std::size_t refine_grid(const FineRows& fine, double passed, double missed, ChainPath& chain);

/// By how much ṡ² must fall, everywhere alike, for every fine row to keep all limits: 1 if not at all. Solved: along a factor on ṡ² and
/// s̈ torques go straight from those at rest, which are borne, to those in motion, so that each limit is passed but once. Negative where
/// even standing is too much; `worst`: the row that decides.
double kept_square(const Model& model, const CycleSpec& cycle, const FineRows& fine, std::size_t& worst);

/// Rows and the fine rows that are spread evenly in one, in the order of time.
ChainMotion with_fine_rows(const ChainMotion& motion, const FineRows& fine);

/// Marks as missed altogether the rows about which a use may rise above `most`.
void miss_peaks(double most, FineRows& fine);

/// Adds the evenly spread fine rows to a motion where resampling it misses them by more than `missed`. `added`: for each row whether the
/// way after it is a new one; empty if there is none.
void add_rows(const FineRows& fine, double missed, ChainMotion& motion, std::vector<std::uint8_t>& added);

}  // namespace armwright
