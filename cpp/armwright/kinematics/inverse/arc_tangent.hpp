#pragma once

#include "armwright/support/lanes.hpp"

namespace armwright {

/// The cosine and sine of an angle.
template <class T>
struct Turn {
  T c, s;
};

/// The angle of the direction (x, y), rad in [-pi, pi], of one or of four; error below 2 units in the last place.
/// (0, 0) gives 0. Both numbers are to be finite and of ordinary size (no scaling against overflow).
/// The quotient of the smaller to the larger is brought below tan(pi/8); the rational approximation there is that of
/// the public-domain netlib cephes library (atan.c).
template <class T>
ARMWRIGHT_INLINE T arc_tangent(T y, T x) {
  const T ax = absolute(x), ay = absolute(y);
  const T larger = maximum(ax, ay), smaller = minimum(ax, ay);
  const auto upper = smaller > T(0.41421356237309503) * larger;
  const T numerator = select(upper, smaller - larger, smaller);
  const T denominator = select(upper, smaller + larger, larger);
  const T t = numerator / maximum(denominator, T(1e-300));
  const T z = t * t;
  T p = T(-8.750608600031904122785e-1);
  p = p * z + T(-1.615753718733365076637e1);
  p = p * z + T(-7.500855792314704667340e1);
  p = p * z + T(-1.228866684490136173410e2);
  p = p * z + T(-6.485021904942025371773e1);
  T q = z + T(2.485846490142306297962e1);
  q = q * z + T(1.650270098316988542046e2);
  q = q * z + T(4.328810604912902668951e2);
  q = q * z + T(4.853903996359136964868e2);
  q = q * z + T(1.945506571482613964425e2);
  T angle = t + t * (z * p / q);
  angle = select(upper, angle + T(0.78539816339744830962), angle);
  angle = select(ay > ax, T(1.57079632679489661923) - angle, angle);
  angle = select(x < T(0.0), T(3.14159265358979323846) - angle, angle);
  return select(y < T(0.0), -angle, angle);
}

template <class T>
ARMWRIGHT_INLINE T arc_tangent(const Turn<T>& turn) {
  return arc_tangent(turn.s, turn.c);
}

/// The angle of a turn whose length is one within 1e-8, rad in [-pi, pi], without a division; error at most 3 units in the
/// last place. By eighths of a turn the sine is brought below sin(pi/8); the minimax polynomial of the arc sine there was worked out
/// for this (Remez 1934, relative error 6e-18).
template <class T>
ARMWRIGHT_INLINE T angle_of_unit(const Turn<T>& turn) {
  const T ac = absolute(turn.c), as = absolute(turn.s);
  const T larger = maximum(ac, as), smaller = minimum(ac, as);
  const auto upper = smaller > T(0.38268343236508977173);
  const T bent = select(upper, (smaller - larger) * T(0.70710678118654752440), smaller);
  const T s = bent * (T(1.5) - T(0.5) * (ac * ac + as * as));  // by one Newton step the sine, whatever the length
  const T z = s * s;
  const T zz = z * z;  // Estrin's order: short chains
  const T p1 = T(0.16666666666666093742) + T(0.075000000001881037556) * z, p3 = T(0.044642856929285678465) + T(0.030381956426825408209) * z;
  const T p5 = T(0.022371773995255442336) + T(0.017360383603764691811) * z, p7 = T(0.013869196837337899947) + T(0.012310927590792970238) * z;
  const T p9 = T(0.0061234870135996834693) + T(0.017596507415222224637) * z;
  const T p = (p1 + p3 * zz) + (zz * zz) * ((p5 + p7 * zz) + (zz * zz) * p9);
  T angle = s + s * (z * p);
  angle = select(upper, angle + T(0.78539816339744830962), angle);
  angle = select(as > ac, T(1.57079632679489661923) - angle, angle);
  angle = select(turn.c < T(0.0), T(3.14159265358979323846) - angle, angle);
  return select(turn.s < T(0.0), -angle, angle);
}

/// The turn that takes the direction of (x, y) into that of (u, v). Where either vanishes, c = s = 0.
template <class T>
ARMWRIGHT_INLINE Turn<T> turn_between(T x, T y, T u, T v) {
  const T c = x * u + y * v, s = x * v - y * u;
  const T scale = T(1.0) / square_root(maximum(c * c + s * s, T(1e-300)));
  return {scale * c, scale * s};
}

}  // namespace armwright
