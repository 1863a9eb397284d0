#pragma once

#include "armwright/support/lanes.hpp"

namespace armwright {

/// Three numbers: a point, a direction, a force or a moment. T is double or Lanes.
template <class T>
struct Vector3 {
  T x, y, z;
};

using Vec3 = Vector3<double>;

template <class T>
ARMWRIGHT_INLINE Vector3<T> operator+(const Vector3<T>& a, const Vector3<T>& b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
template <class T>
ARMWRIGHT_INLINE Vector3<T> operator-(const Vector3<T>& a, const Vector3<T>& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
template <class T>
ARMWRIGHT_INLINE Vector3<T> operator-(const Vector3<T>& a) { return {-a.x, -a.y, -a.z}; }
template <class T>
ARMWRIGHT_INLINE Vector3<T> operator*(T s, const Vector3<T>& a) { return {s * a.x, s * a.y, s * a.z}; }
template <class T>
ARMWRIGHT_INLINE T dot(const Vector3<T>& a, const Vector3<T>& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
template <class T>
ARMWRIGHT_INLINE Vector3<T> cross(const Vector3<T>& a, const Vector3<T>& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
template <class T>
ARMWRIGHT_INLINE T norm(const Vector3<T>& a) { return square_root(dot(a, a)); }

/// The same vector in every lane.
template <class T>
ARMWRIGHT_INLINE Vector3<T> spread(const Vec3& a) { return {T(a.x), T(a.y), T(a.z)}; }

}  // namespace armwright
