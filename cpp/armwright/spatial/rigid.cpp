#include "armwright/spatial/rigid.hpp"

#include <cstddef>

#include "armwright/spatial/pose.hpp"
#include "armwright/support/transposed.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

template <class T>
ARMWRIGHT_INLINE typename T::Mask rigid(const T (&m)[16], T tolerance, T farthest) {
  const Vector3<T> x{m[0], m[4], m[8]}, y{m[1], m[5], m[9]}, z{m[2], m[6], m[10]};
  const T one(1.0), zero(0.0);
  const auto fits = [&](T product, T wanted) ARMWRIGHT_INLINE_LAMBDA { return absolute(product - wanted) <= tolerance; };
  const auto square = fits(dot(x, x), one) & fits(dot(y, y), one) & fits(dot(z, z), one) & fits(dot(x, y), zero) &
                      fits(dot(y, z), zero) & fits(dot(z, x), zero);
  const auto near = (absolute(m[3]) <= farthest) & (absolute(m[7]) <= farthest) & (absolute(m[11]) <= farthest);
  const auto is = [](T a, T b) ARMWRIGHT_INLINE_LAMBDA { return (a <= b) & (a >= b); };
  return square & near & (dot(cross(x, y), z) > zero) & is(m[12], zero) & is(m[13], zero) & is(m[14], zero) & is(m[15], one);
}

template <class T>
ARMWRIGHT_INLINE bool all_rigid_in(std::span<const double> poses, double tolerance, double farthest) {
  const std::size_t rows = poses.size() / 16;
  for (std::size_t row = 0; row < rows; row += T::width) {
    const double* at[T::width];
    for (std::size_t k = 0; k < T::width; ++k) at[k] = poses.data() + 16 * (row + k < rows ? row + k : rows - 1);
    T m[16];
    load_transposed(at, m);
    if (!all(rigid(m, T(tolerance), T(farthest)))) return false;
  }
  return true;
}

}  // namespace

bool all_rigid(std::span<const double> poses, double tolerance, double farthest) {
  bool found = true;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { found = all_rigid_in<T>(poses, tolerance, farthest); });
  return found;
}

}  // namespace armwright
