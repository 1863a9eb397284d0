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

/// How far x is outside [-h, h], signed: as excess(), in one operation fewer.
template <class T>
ARMWRIGHT_INLINE T beyond(T x, T h) { return x - clamped(x, -h, h); }

/// The parameter of the point of a segment nearest to the box [-half, half]. Half the derivative of the squared distance
/// along the segment, its slope, never falls, and is linear between the six parameters where the segment's line crosses the
/// planes of the faces: between the two on either side of its root, one step of Newton's gives it exactly. On the whole
/// line first, so that no plane needs a look at whether it is crossed within the segment. Where a stretch is as near as any
/// other, its first end; the middle of what is within the box, so that rounding does not take it for outside.
template <class T>
ARMWRIGHT_INLINE T nearest_to_box(const Vector3<T>& c, const Vector3<T>& d, const Vector3<T>& half) {
  const T one(1.0), zero(0.0), tiny(1e-100);
  T falls = -one, rises = one;  // the last plane at which the slope does not rise yet, the first at which it does not fall
  const auto at_plane = [&](T t, T slope) ARMWRIGHT_INLINE_LAMBDA {
    falls = select(slope <= zero, maximum(t, falls), falls);
    rises = select(slope >= zero, minimum(t, rises), rises);
  };
  // Along an axis on which it does not move a segment crosses nothing: t = 0 then does no harm. One division for all three.
  const auto moves_x = absolute(d.x) > tiny, moves_y = absolute(d.y) > tiny, moves_z = absolute(d.z) > tiny;
  const T x = select(moves_x, d.x, one), y = select(moves_y, d.y, one), z = select(moves_z, d.z, one);
  const T xy = x * y, per_xyz = one / (xy * z);
  // On the plane of a face the excess along that axis is 0.
  const auto planes = [&](T per, T c1, T h1, T c2, T d2, T h2, T c3, T d3, T h3) ARMWRIGHT_INLINE_LAMBDA {
    const T enters = (-h1 - c1) * per, leaves = (h1 - c1) * per;
    at_plane(enters, beyond(c2 + enters * d2, h2) * d2 + beyond(c3 + enters * d3, h3) * d3);
    at_plane(leaves, beyond(c2 + leaves * d2, h2) * d2 + beyond(c3 + leaves * d3, h3) * d3);
  };
  planes(select(moves_x, y * z * per_xyz, zero), c.x, half.x, c.y, d.y, half.y, c.z, d.z, half.z);
  planes(select(moves_y, x * z * per_xyz, zero), c.y, half.y, c.z, d.z, half.z, c.x, d.x, half.x);
  planes(select(moves_z, xy * per_xyz, zero), c.z, half.z, c.x, d.x, half.x, c.y, d.y, half.y);
  // In this order, or a stretch without slope the other way round.
  const T low = clamped(minimum(falls, rises), -one, one), high = clamped(maximum(falls, rises), -one, one);
  const T middle = T(0.5) * (low + high);
  const Vector3<T> at = c + middle * d;
  const Vector3<T> out{beyond(at.x, half.x), beyond(at.y, half.y), beyond(at.z, half.z)};
  const auto square_where = [&](auto outside, T way) ARMWRIGHT_INLINE_LAMBDA { return select(outside, way * way, zero); };
  const auto out_x = absolute(out.x) > zero, out_y = absolute(out.y) > zero, out_z = absolute(out.z) > zero;
  const T rise = square_where(out_x, d.x) + square_where(out_y, d.y) + square_where(out_z, d.z);
  const auto slopes = rise > zero;
  const T root = clamped(middle - dot(out, d) / select(slopes, rise, one), low, high);
  return select(slopes, root, select(out_x | out_y | out_z, low, middle));
}

}  // namespace armwright
