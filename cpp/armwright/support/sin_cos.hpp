#pragma once

#include <cmath>

#include "armwright/support/lanes.hpp"

namespace armwright {

namespace detail {

// Nearest whole number, for |x| < 2^51: adding and taking away 1.5 * 2^52 rounds in the default rounding mode.
template <class T>
ARMWRIGHT_INLINE T nearest(T x) {
  const T big(6755399441055744.0);
  return (x + big) - big;
}

}  // namespace detail

/// Beyond this angle, rad, sin_cos() is no longer good to a few units in the last place.
inline constexpr double widest_angle = 1e5;

/// Sine and cosine of one angle or of a pack of them, rad. Error at most 2.5 units in the last place for |x| <= widest_angle
/// (1.6 within a turn, both as measured). Reduction by pi/2 in three parts (Cody and Waite, "Software Manual for the
/// Elementary Functions", 1980); the polynomials are the minimax ones of the public-domain netlib cephes library (sin.c).
template <class T>
ARMWRIGHT_INLINE void sin_cos_within(T x, T& sine, T& cosine) {
  // As nearest() does, but the whole number is also left in the last bits of the sum.
  const T rounded = x * T(0.63661977236758134308) + T(6755399441055744.0);
  const T quadrant = rounded - T(6755399441055744.0);
  T r = x - quadrant * T(1.57079632673412561417);        // 33 leading bits of pi/2: the product is exact
  r = r - quadrant * T(6.07710050630396597660e-11);      // the next 33 bits
  r = r - quadrant * T(2.02226624879595063154e-21);      // and the rest
  const T z = r * r;
  T s = T(1.58962301576546568060e-10);
  s = s * z + T(-2.50507477628578072866e-8);
  s = s * z + T(2.75573136213857245213e-6);
  s = s * z + T(-1.98412698295895385996e-4);
  s = s * z + T(8.33333333332211858878e-3);
  s = s * z + T(-1.66666666666666307295e-1);
  s = r + r * (z * s);
  T c = T(-1.13585365213876817300e-11);
  c = c * z + T(2.08757008419747316778e-9);
  c = c * z + T(-2.75573141792967388112e-7);
  c = c * z + T(2.48015872888517045348e-5);
  c = c * z + T(-1.38888888888730564116e-3);
  c = c * z + T(4.16666666666665929218e-2);
  c = (T(1.0) - T(0.5) * z) + z * z * c;
  const auto odd = last_bit(rounded);
  sine = turned(select(odd, c, s), rounded, 0);
  cosine = turned(select(odd, s, c), rounded, 1);
}

/// The same for any angle: beyond widest_angle the C library is asked.
template <class T>
ARMWRIGHT_INLINE void sin_cos(T x, T& sine, T& cosine) {
  sin_cos_within(x, sine, cosine);
  const auto wide = absolute(x) > T(widest_angle);
  if (!any(wide)) return;
  for (std::size_t i = 0; i < width_of<T>; ++i) {
    if (!lane(wide, i)) continue;
    set_lane(sine, i, std::sin(lane(x, i)));
    set_lane(cosine, i, std::cos(lane(x, i)));
  }
}

}  // namespace armwright
