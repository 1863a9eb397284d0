#include "armwright/kinematics/tool_error.hpp"

#include <algorithm>

#include "armwright/kinematics/jacobian_columns.hpp"

namespace armwright {

void tool_errors(const Model& model, std::span<const SmallMove> moves, std::span<const double> q, std::span<double> out) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q);
  Pose frames[max_joints];
  JacobianColumn<double> columns[max_joints];
  for (std::size_t row = 0; row < rows; ++row) {
    joint_frames<double>(model, &q[row * n], frames);
    jacobian_columns<double>(model, frames, columns);
    const Vec3 tool = frames[n - 1] * model.tool.position;
    for (std::size_t k = 0; k < moves.size(); ++k) {
      const SmallMove& move = moves[k];
      const Pose& before = move.frame < 0 ? identity_pose : frames[move.frame];
      Vec3 turn = before.rotation * move.turn;
      Vec3 shift = before.rotation * move.shift + cross(turn, tool - before * move.point);
      for (std::size_t i = 0; i < n; ++i) {
        shift = shift + move.joints[i] * columns[i].linear;
        turn = turn + move.joints[i] * columns[i].angular;
      }
      const double given[6] = {shift.x, shift.y, shift.z, turn.x, turn.y, turn.z};
      std::copy_n(given, 6, &out[6 * (row * moves.size() + k)]);
    }
  }
}

}  // namespace armwright
