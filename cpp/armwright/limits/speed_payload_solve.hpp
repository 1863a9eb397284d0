#pragma once

#include <cmath>
#include <limits>
#include <span>

#include "armwright/limits/payload_of.hpp"
#include "armwright/spatial/vector3.hpp"

namespace armwright {

/// What accelerations add to a torque at their worst: size · ‖at_rest + m per_kilogram‖, m the mass carried. A vector for
/// an acceleration of that size in any direction; a number (in x) for one that goes either way.
struct Swing {
  double size;
  Vec3 own, per_kilogram;
};

/// own + m per_kilogram + Σ size ‖·‖ <= room: one side of one limit of one axis, convex in the mass m.
struct MassBound {
  double own, per_kilogram, room;
  std::span<const Swing> swings;
};

/// The left side at a mass; with it, how it grows there.
struct BoundValue {
  double value, slope;
};

inline BoundValue bound_at(const MassBound& bound, double mass) {
  BoundValue at{bound.own + mass * bound.per_kilogram, bound.per_kilogram};
  for (const Swing& swing : bound.swings) {
    const Vec3 r = swing.own + mass * swing.per_kilogram;
    const double length = norm(r);
    at.value += swing.size * length;
    at.slope += swing.size * (length > 0 ? dot(r, swing.per_kilogram) / length : norm(swing.per_kilogram));
  }
  return at;
}

/// The greatest mass that keeps a bound, infinite if every mass does; the bound must hold at mass 0. The left side is convex and so
/// crosses `room` once. No swing: (room − own) / per_kilogram. One swing: size² ‖r0 + m r1‖² = (room − own − m per_kilogram)² is a
/// quadratic in m, whose least positive root it is. Several: Newton's steps from a mass that is too much fall to the
/// crossing without passing it, since the left side is convex; with swings of single numbers, where it is made
/// of straight pieces, they end on it after at most as many steps as there are pieces.
inline double greatest_mass(const MassBound& bound) {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  if (bound.room == infinite) return infinite;
  double last_slope = bound.per_kilogram, start = bound.room - bound.own;  // both of the line that the left side nears from above
  for (const Swing& swing : bound.swings) last_slope += swing.size * norm(swing.per_kilogram), start += swing.size * norm(swing.own);
  if (last_slope <= no_lever * (1 + std::fabs(bound.room))) return infinite;
  const double left = bound.room - bound.own;
  if (bound.swings.empty()) return left / bound.per_kilogram > 0 ? left / bound.per_kilogram : 0;
  if (bound.swings.size() == 1) {
    const Swing& swing = bound.swings.front();
    const double size = swing.size, across = size * norm(swing.own), p = bound.per_kilogram;
    const double a = size * size * dot(swing.per_kilogram, swing.per_kilogram) - p * p;
    const double b = size * size * dot(swing.own, swing.per_kilogram) + p * left;
    const double c = (across - left) * (across + left);  // not positive, since the bound holds at 0
    const double root = std::sqrt(std::fmax(b * b - a * c, 0));
    const double mass = b >= 0 ? -c / (b + root) : (root - b) / a;
    return mass > 0 ? mass : 0;
  }
  double mass = start / last_slope;
  for (int step = 0; step < 100; ++step) {
    const BoundValue at = bound_at(bound, mass);
    const double next = mass - (at.value - bound.room) / at.slope;
    if (!(next < mass) || !(at.slope > 0)) break;
    mass = next;
  }
  return mass > 0 ? mass : 0;
}

}  // namespace armwright
