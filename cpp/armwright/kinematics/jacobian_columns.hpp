#pragma once

#include "armwright/kinematics/chain.hpp"

namespace armwright {

template <class T>
struct JacobianColumn {
  Vector3<T> linear, angular;
};

/// The Jacobian's columns for one row or several in lanes, from the joint frames in the world.
template <class T>
ARMWRIGHT_INLINE void jacobian_columns(const Model& model, const Pose3<T>* frames, JacobianColumn<T>* columns) {
  const Vector3<T> tool = frames[model.joint_count - 1] * spread<T>(model.tool.position);
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const Vector3<T>& z = frames[i].rotation.z;
    if (model.step[i].kind == JointKind::revolute) {
      columns[i] = {cross(z, tool - frames[i].position), z};
    } else {
      columns[i] = {z, {T(0.0), T(0.0), T(0.0)}};
    }
  }
}

/// Volume spanned by the rows or columns, whichever are fewer: the root of the Gram determinant, by Cholesky's
/// factors. Rows first_row .. first_row + row_count - 1 of the Jacobian count.
template <class T>
ARMWRIGHT_INLINE T gram_volume(const JacobianColumn<T>* columns, std::size_t joint_count, std::size_t first_row, std::size_t row_count) {
  const bool by_rows = row_count <= joint_count;
  const std::size_t size = by_rows ? row_count : joint_count, depth = by_rows ? joint_count : row_count;
  T matrix[6][max_joints];
  for (std::size_t j = 0; j < joint_count; ++j) {
    const auto& [v, w] = columns[j];
    const T rows[6] = {v.x, v.y, v.z, w.x, w.y, w.z};
    for (std::size_t r = 0; r < row_count; ++r) (by_rows ? matrix[r][j] : matrix[j][r]) = rows[first_row + r];
  }
  T gram[6][6];
  for (std::size_t i = 0; i < size; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      T sum(0.0);
      for (std::size_t k = 0; k < depth; ++k) sum += matrix[i][k] * matrix[j][k];
      gram[i][j] = sum;
    }
  T volume(1.0);
  for (std::size_t j = 0; j < size; ++j) {
    T pivot = gram[j][j];
    for (std::size_t k = 0; k < j; ++k) pivot -= gram[j][k] * gram[j][k];
    pivot = square_root(maximum(pivot, T(0.0)));
    volume *= pivot;
    const T inverse_pivot = select(pivot > T(0.0), T(1.0) / pivot, T(0.0));
    for (std::size_t i = j + 1; i < size; ++i) {
      T sum = gram[i][j];
      for (std::size_t k = 0; k < j; ++k) sum -= gram[i][k] * gram[j][k];
      gram[i][j] = sum * inverse_pivot;
    }
  }
  return volume;
}

}  // namespace armwright
