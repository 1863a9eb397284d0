#pragma once

#include "armwright/spatial/vector3.hpp"

namespace armwright {

/// A rotation, kept as the three axes of the turned frame (the columns of the matrix).
template <class T>
struct Rotation3 {
  Vector3<T> x, y, z;
};

/// A pose X_AB: takes what is told in frame B to frame A. `position` is B's origin in A.
template <class T>
struct Pose3 {
  Rotation3<T> rotation;
  Vector3<T> position;
};

using Rotation = Rotation3<double>;
using Pose = Pose3<double>;

inline constexpr Rotation no_rotation{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
inline constexpr Pose identity_pose{no_rotation, {0, 0, 0}};

template <class T>
ARMWRIGHT_INLINE Vector3<T> operator*(const Rotation3<T>& R, const Vector3<T>& v) {
  return {R.x.x * v.x + R.y.x * v.y + R.z.x * v.z, R.x.y * v.x + R.y.y * v.y + R.z.y * v.z, R.x.z * v.x + R.y.z * v.y + R.z.z * v.z};
}
/// Rᵀ v: what is told in A, seen in B.
template <class T>
ARMWRIGHT_INLINE Vector3<T> transpose_times(const Rotation3<T>& R, const Vector3<T>& v) {
  return {dot(R.x, v), dot(R.y, v), dot(R.z, v)};
}
template <class T>
ARMWRIGHT_INLINE Rotation3<T> operator*(const Rotation3<T>& A, const Rotation3<T>& B) { return {A * B.x, A * B.y, A * B.z}; }
template <class T>
ARMWRIGHT_INLINE Rotation3<T> transpose(const Rotation3<T>& R) {
  return {{R.x.x, R.y.x, R.z.x}, {R.x.y, R.y.y, R.z.y}, {R.x.z, R.y.z, R.z.z}};
}
template <class T>
ARMWRIGHT_INLINE Vector3<T> operator*(const Pose3<T>& X, const Vector3<T>& p) { return X.rotation * p + X.position; }
template <class T>
ARMWRIGHT_INLINE Pose3<T> operator*(const Pose3<T>& A, const Pose3<T>& B) { return {A.rotation * B.rotation, A * B.position}; }
template <class T>
ARMWRIGHT_INLINE Pose3<T> inverse(const Pose3<T>& X) {
  return {transpose(X.rotation), -transpose_times(X.rotation, X.position)};
}
template <class T>
ARMWRIGHT_INLINE Rotation3<T> spread(const Rotation& R) { return {spread<T>(R.x), spread<T>(R.y), spread<T>(R.z)}; }
template <class T>
ARMWRIGHT_INLINE Pose3<T> spread(const Pose& X) { return {spread<T>(X.rotation), spread<T>(X.position)}; }

/// Row-major 4×4, as numpy holds it, to a pose (the last row is not read).
inline Pose pose_from_rows(const double* m) {
  return {{{m[0], m[4], m[8]}, {m[1], m[5], m[9]}, {m[2], m[6], m[10]}}, {m[3], m[7], m[11]}};
}
/// A pose to a row-major 4×4.
inline void pose_to_rows(const Pose& X, double* m) {
  const auto& [R, p] = X;
  const double rows[16] = {R.x.x, R.y.x, R.z.x, p.x, R.x.y, R.y.y, R.z.y, p.y, R.x.z, R.y.z, R.z.z, p.z, 0, 0, 0, 1};
  for (int i = 0; i < 16; ++i) m[i] = rows[i];
}

}  // namespace armwright
