#pragma once

#include <array>
#include <cstdint>
#include <span>

#include "armwright/model/model.hpp"

namespace armwright {

/// A cause that the tool stands elsewhere than it should, by as much as it may be at most: everything beyond some place
/// of the chain shifts by `shift` (m) and turns by `turn` (rad) about `point` (m), all told in the frame F(frame) that
/// comes before that place; and joints stand off by `joints` (rad; m where they slide), in which the coupling of drives
/// counts already.
struct SmallMove {
  std::int32_t frame = -1;  ///< joint frame F(i); -1: the world
  Vec3 point{0, 0, 0}, shift{0, 0, 0}, turn{0, 0, 0};
  std::array<double, max_joints> joints{};
};

/// What each cause alone does to the tool, in the first order: the tool point's shift (m), then the tool's turn as a vector
/// (rad), both in world axes. d p = R (shift + turn × (tool - point)) + J_v dq, d theta = R turn + J_w dq (differentials of a
/// rigid chain; no table or standard needed). What is left out grows with the square of the errors: half their angle times the
/// shift that it brings. `out`: rows × moves × 6.
void tool_errors(const Model& model, std::span<const SmallMove> moves, std::span<const double> q, std::span<double> out);

}  // namespace armwright
