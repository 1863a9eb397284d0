#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "armwright/clearance/along.hpp"
#include "armwright/motion/timed_motion.hpp"

namespace armwright {

/// What a motion keeps from the solids about it.
struct MotionClearance {
  std::vector<double> distance;       ///< row: the least there, m
  std::vector<ClearanceAlong> least;  ///< move: the least on its way
  std::vector<std::array<std::string, 2>> between;  ///< move: the two solids, "" for none
  std::vector<double> least_time;     ///< move: when that was found, s; NaN for a move without rows
  std::vector<std::uint8_t> kept;     ///< move: whether every pair keeps what its fixture asks for; no pair can fall short of it by more than the tolerance unseen
};

/// Least distances of a motion at its rows, and along each of its moves with a lower bound that is proven within
/// `tolerance`, m (see least_along), with the joints between rows as motion_at() takes them. `scenes`: the solids with each
/// load, the last with none. Empty if it was cancelled.
MotionClearance motion_clearance(const Model& model, const std::vector<std::shared_ptr<const Scene>>& scenes, const TimedMotion& motion,
                                 std::size_t moves, double tolerance, unsigned threads, const Progress& progress);

}  // namespace armwright
