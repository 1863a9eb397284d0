#pragma once

#include "armwright/spatial/pose.hpp"

namespace armwright {

// Segments are told by their centre and half the way from end to end: points c + t d, t in [-1, 1].
// T is double, or Lanes for four pairs side by side.

template <class T>
ARMWRIGHT_INLINE T clamped(T x, T lower, T upper) { return minimum(maximum(x, lower), upper); }

/// How far x is outside [-h, h], signed.
template <class T>
ARMWRIGHT_INLINE T excess(T x, T h) { return maximum(x - h, T(0.0)) + minimum(x + h, T(0.0)); }

template <class T>
ARMWRIGHT_INLINE Vector3<T> excess(const Vector3<T>& p, const Vector3<T>& half) {
  return {excess(p.x, half.x), excess(p.y, half.y), excess(p.z, half.z)};
}

/// Parameters of the nearest points of two segments. Three one-dimensional minimisations (C. Ericson, "Real-Time
/// Collision Detection", 2005, section 5.1.9); parallel or zero-length segments get one of their nearest pairs.
template <class T>
ARMWRIGHT_INLINE void nearest_on_segments(const Vector3<T>& c1, const Vector3<T>& d1, const Vector3<T>& c2, const Vector3<T>& d2, T& s, T& t) {
  const T one(1.0), zero(0.0);
  const Vector3<T> r = c1 - c2;
  const T a = dot(d1, d1), e = dot(d2, d2), b = dot(d1, d2), c = dot(d1, r), f = dot(d2, r);
  const T square = a * e - b * b;
  // With less than this of a right angle left, every point of one is as near to the other's line, to rounding.
  const auto crossing = square > T(1e-15) * a * e;
  s = select(crossing, clamped((b * f - c * e) / select(crossing, square, one), -one, one), zero);
  const auto second = e > zero;
  t = select(second, clamped((b * s + f) / select(second, e, one), -one, one), zero);
  const auto first = a > zero;
  s = select(first, clamped((b * t - c) / select(first, a, one), -one, one), zero);
}

/// Half the derivative of the squared distance from the box [-half, half] along a segment: never falls with t.
template <class T>
ARMWRIGHT_INLINE T slope_from_box(const Vector3<T>& c, const Vector3<T>& d, const Vector3<T>& half, T t) {
  return dot(excess(c + t * d, half), d);
}

/// The parameter of the point of a segment nearest to the box [-half, half]. The slope is linear between the six
/// parameters where the segment crosses the planes of the faces; the two on either side of its root give it exactly.
template <class T>
ARMWRIGHT_INLINE T nearest_to_box(const Vector3<T>& c, const Vector3<T>& d, const Vector3<T>& half) {
  const T one(1.0), zero(0.0);
  T low = -one, high = one;
  T slope_low = slope_from_box(c, d, half, low), slope_high = slope_from_box(c, d, half, high);
  const auto narrow = [&](T plane, T centre, T way) {
    const T t = clamped((plane - centre) / way, -one, one);  // way = 0: infinite or not a number, an end either way
    const T slope = slope_from_box(c, d, half, t);
    const auto before = (slope < zero) & (t >= low);
    low = select(before, t, low);
    slope_low = select(before, slope, slope_low);
    const auto after = (slope >= zero) & (t <= high);
    high = select(after, t, high);
    slope_high = select(after, slope, slope_high);
  };
  narrow(-half.x, c.x, d.x);
  narrow(half.x, c.x, d.x);
  narrow(-half.y, c.y, d.y);
  narrow(half.y, c.y, d.y);
  narrow(-half.z, c.z, d.z);
  narrow(half.z, c.z, d.z);
  const T rise = slope_high - slope_low;
  const auto between = (slope_low < zero) & (slope_high > zero);
  const T root = low + (high - low) * (-slope_low / select(between, rise, one));
  return select(between, root, select(slope_low >= zero, low, high));
}

}  // namespace armwright
