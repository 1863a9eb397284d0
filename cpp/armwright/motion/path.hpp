#pragma once

#include <cstdint>
#include <vector>

#include "armwright/model/cycle_spec.hpp"

namespace armwright {

/// A way through joint space told row by row: q by the path's parameter s with first and second derivative, both continuous. s is
/// metres of the tool's way in a line or arc that is not blended; else a measure that suits the path.
struct PathRows {
  std::size_t joint_count = 0;
  std::vector<double> s;                      ///< rising
  std::vector<double> q, first, second;       ///< rows × joint_count: q, dq/ds, d²q/ds²
  std::vector<std::int32_t> move;             ///< which move a row belongs to
  std::size_t rows() const { return s.size(); }
};

/// Why a path cannot be followed.
enum class PathTrouble : std::int8_t {
  none,
  out_of_reach,     ///< no posture brings the tool there
  joint_range,      ///< the joints would leave their range
  singular,         ///< too near a posture where the joints cannot follow the tool
  branch_lost,      ///< the posture would have to jump
  no_circle         ///< the three points of an arc lie on one line, or two of them are one
};

struct PathStop {
  PathTrouble trouble = PathTrouble::none;
  std::int32_t move = -1, axis = -1;
  double share = 0;   ///< how far along the move, 0 to 1
  double value = 0;   ///< joint_range: by how much it is past, rad or m; else the Jacobian's inverse condition there, or just before: small near a singular posture
  bool good() const { return trouble == PathTrouble::none; }
};

}  // namespace armwright
