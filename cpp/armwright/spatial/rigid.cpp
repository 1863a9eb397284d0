#include "armwright/spatial/rigid.hpp"

#include <cstddef>

#include "armwright/spatial/pose.hpp"

namespace armwright {

namespace {

ARMWRIGHT_INLINE Mask rigid(const Lanes (&m)[16], Lanes tolerance) {
  const Vector3<Lanes> x{m[0], m[4], m[8]}, y{m[1], m[5], m[9]}, z{m[2], m[6], m[10]};
  const Lanes one(1.0), zero(0.0);
  const auto fits = [&](Lanes product, Lanes wanted) ARMWRIGHT_INLINE_LAMBDA { return absolute(product - wanted) <= tolerance; };
  const Mask square = fits(dot(x, x), one) & fits(dot(y, y), one) & fits(dot(z, z), one) & fits(dot(x, y), zero) &
                      fits(dot(y, z), zero) & fits(dot(z, x), zero);
  const auto is = [](Lanes a, Lanes b) ARMWRIGHT_INLINE_LAMBDA { return (a <= b) & (a >= b); };
  return square & (dot(cross(x, y), z) > zero) & is(m[12], zero) & is(m[13], zero) & is(m[14], zero) & is(m[15], one);
}

}  // namespace

ARMWRIGHT_BATCH bool all_rigid(std::span<const double> poses, double tolerance) {
  const std::size_t rows = poses.size() / 16;
  for (std::size_t row = 0; row < rows; row += 4) {
    Lanes m[16];
    for (std::size_t i = 0; i < 16; ++i)
      for (std::size_t k = 0; k < 4; ++k) m[i].set(k, poses[16 * (row + k < rows ? row + k : rows - 1) + i]);
    if (!all(rigid(m, Lanes(tolerance)))) return false;
  }
  return true;
}

}  // namespace armwright
