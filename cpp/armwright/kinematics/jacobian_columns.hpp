#pragma once

#include "armwright/kinematics/chain.hpp"

namespace armwright {

template <class T>
struct JacobianColumn {
  Vector3<T> linear, angular;
};

/// The column of a joint with its frame in the world, for a tool point there.
template <class T>
ARMWRIGHT_INLINE JacobianColumn<T> jacobian_column(JointKind kind, const Pose3<T>& frame, const Vector3<T>& tool) {
  const Vector3<T>& z = frame.rotation.z;
  if (kind == JointKind::revolute) return {cross(z, tool - frame.position), z};
  return {z, {T(0.0), T(0.0), T(0.0)}};
}

/// All columns for one row or a pack of them, from the joint frames in the world.
template <class T>
ARMWRIGHT_INLINE void jacobian_columns(const Model& model, const Pose3<T>* frames, JacobianColumn<T>* columns) {
  const Vector3<T> tool = frames[model.joint_count - 1] * spread<T>(model.tool.position);
  for (std::size_t i = 0; i < model.joint_count; ++i) columns[i] = jacobian_column(model.step[i].kind, frames[i], tool);
}

namespace detail {

/// The determinant of a symmetric matrix that has no negative one but by rounding, from its lower half, which is used up:
/// the product of the pivots of its square-root-free Cholesky factors.
template <std::size_t Size, class T>
ARMWRIGHT_INLINE T gram_determinant(T (&gram)[Size][Size]) {
  T product(1.0);
#pragma GCC unroll 6
  for (std::size_t j = 0; j < Size; ++j) {
    const T pivot = maximum(gram[j][j], T(0.0));
    product *= pivot;
    const T inverse_pivot = select(pivot > T(0.0), T(1.0) / pivot, T(0.0));
#pragma GCC unroll 6
    for (std::size_t i = j + 1; i < Size; ++i) {
      const T factor = gram[i][j] * inverse_pivot;
#pragma GCC unroll 6
      for (std::size_t k = j + 1; k <= i; ++k) gram[i][k] -= factor * gram[k][j];
    }
  }
  return product;
}

// Unrolling a loop over the joints, the compiler sees columns past the last one that are never asked for.
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
template <std::size_t First, std::size_t Count, class T>
ARMWRIGHT_INLINE void take_rows(const JacobianColumn<T>& column, T (&rows)[Count]) {
  const auto& [v, w] = column;
  const T all[6] = {v.x, v.y, v.z, w.x, w.y, w.z};
#pragma GCC unroll 6
  for (std::size_t i = 0; i < Count; ++i) rows[i] = all[First + i];
}
#pragma GCC diagnostic pop

}  // namespace detail

/// Volume spanned by rows `First` to `First + Count - 1` of the Jacobian or, where fewer, by its columns: the root of the
/// Gram determinant.
template <std::size_t First, std::size_t Count, class T>
ARMWRIGHT_INLINE T gram_volume(const JacobianColumn<T>* columns, std::size_t joint_count) {
  T rows[Count];
  if (joint_count < Count) {  // of the columns, filled up with ones on the diagonal, which do not change the determinant
    T gram[Count][Count], others[Count];
    for (std::size_t i = 0; i < Count; ++i)
      for (std::size_t k = 0; k <= i; ++k) gram[i][k] = T(i == k && i >= joint_count ? 1.0 : 0.0);
    for (std::size_t i = 0; i < joint_count; ++i) {
      detail::take_rows<First>(columns[i], rows);
      for (std::size_t k = 0; k <= i; ++k) {
        detail::take_rows<First>(columns[k], others);
        for (std::size_t r = 0; r < Count; ++r) gram[i][k] += rows[r] * others[r];
      }
    }
    return square_root(detail::gram_determinant(gram));
  }
  T gram[Count][Count];
#pragma GCC unroll 6
  for (std::size_t i = 0; i < Count; ++i)
#pragma GCC unroll 6
    for (std::size_t k = 0; k <= i; ++k) gram[i][k] = T(0.0);
  for (std::size_t j = 0; j < joint_count; ++j) {
    detail::take_rows<First>(columns[j], rows);
#pragma GCC unroll 6
    for (std::size_t i = 0; i < Count; ++i)
#pragma GCC unroll 6
      for (std::size_t k = 0; k <= i; ++k) gram[i][k] += rows[i] * rows[k];
  }
  return square_root(detail::gram_determinant(gram));
}

}  // namespace armwright
