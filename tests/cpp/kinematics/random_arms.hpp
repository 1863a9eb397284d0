#pragma once

#include <array>
#include <cmath>
#include <cstdint>

#include "armwright/kinematics/inverse/six_chain.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright::testing {

/// A small seeded generator (SplitMix64, public domain): the same numbers on every machine and library.
struct Random {
  std::uint64_t state;
  std::uint64_t next() {
    std::uint64_t z = (state += 0x9e3779b97f4a7c15ull);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ull;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebull;
    return z ^ (z >> 31);
  }
  double uniform(double low, double high) {
    return low + (high - low) * static_cast<double>(next() >> 11) * 0x1p-53;
  }
  double sign() { return next() & 1 ? 1 : -1; }
  Vec3 direction() {
    for (;;) {
      const Vec3 v{uniform(-1, 1), uniform(-1, 1), uniform(-1, 1)};
      const double n = norm(v);
      if (n > 0.1 && n < 1) return (1 / n) * v;
    }
  }
  Pose pose(double reach) {
    return {turn_about(direction(), uniform(-3.1, 3.1)), uniform(0, reach) * direction()};
  }
  std::array<double, 6> posture() {
    std::array<double, 6> q;
    for (double& x : q) x = uniform(-M_PI, M_PI);
    return q;
  }
};

inline Pose step_pose(const Vec3& offset, double alpha) {
  return {{{1, 0, 0}, {0, std::cos(alpha), std::sin(alpha)}, {0, -std::sin(alpha), std::cos(alpha)}}, offset};
}

inline JointStep step_of(const Vec3& offset, double alpha, double zero) {
  return {offset, std::cos(alpha), std::sin(alpha), zero, std::cos(zero), std::sin(zero), JointKind::revolute};
}

/// A row of standard Denavit-Hartenberg parameters: Rz(q + theta) Tz(d) Tx(a) Rx(alpha). m, rad.
struct DhRow {
  double theta, d, a, alpha;
};

/// The chain of six standard Denavit-Hartenberg rows. Row i's Tz(d) Tx(a) Rx(alpha) becomes step i+1's offset and turn.
inline SixChain chain_of(const std::array<DhRow, 6>& rows, const Pose& base = identity_pose,
                         const Pose& tool = identity_pose) {
  SixChain chain;
  chain.base = base;
  for (std::size_t i = 0; i < 6; ++i) {
    const DhRow before = i == 0 ? DhRow{0, 0, 0, 0} : rows[i - 1];
    chain.step[i] = step_of({before.a, 0, before.d}, before.alpha, rows[i].theta);
  }
  chain.end = step_pose({rows[5].a, 0, rows[5].d}, rows[5].alpha) * tool;
  return chain;
}

/// Six axes given as lines in the base frame, with the end pose, all at q = 0.
inline SixChain chain_on(const std::array<AxisLine, 6>& axes, const Pose& end) {
  // Any frame with z on each axis will do if x is square to both this axis and the one before.
  SixChain chain;
  Pose before{frame_on(axes[0].direction), axes[0].point};
  chain.base = before;
  double turned = 0;  // of the frame about its own axis, against the joint's own zero
  for (std::size_t i = 0; i < 6; ++i) {
    // From `before`, find alpha and zero with Rx(alpha) Rz(zero): the frame before may be turned about its z so that
    // its x axis is square to both.
    const Vec3 z = axes[i].direction;
    Vec3 n = cross(before.rotation.z, z);
    n = norm(n) > 1e-9 ? (1 / norm(n)) * n : before.rotation.x;
    const double turn = std::atan2(dot(n, before.rotation.y), dot(n, before.rotation.x));
    const Pose spin{{{std::cos(turn), std::sin(turn), 0}, {-std::sin(turn), std::cos(turn), 0}, {0, 0, 1}}, {0, 0, 0}};
    before = before * spin;
    if (i == 0) {
      chain.base = before;
    } else {
      chain.step[i - 1].zero = turned + turn;
      chain.step[i - 1].cos_zero = std::cos(turned + turn);
      chain.step[i - 1].sin_zero = std::sin(turned + turn);
    }
    turned = 0;
    const double sine = dot(cross(before.rotation.z, z), before.rotation.x), cosine = dot(before.rotation.z, z);
    const double length = std::hypot(sine, cosine);
    chain.step[i] = {transpose_times(before.rotation, axes[i].point - before.position),
                     cosine / length, sine / length, 0, 1, 0, JointKind::revolute};
    before = before * Pose{{{1, 0, 0}, {0, cosine / length, sine / length}, {0, -sine / length, cosine / length}},
                           chain.step[i].offset};
  }
  chain.end = inverse(before) * end;
  return chain;
}

}  // namespace armwright::testing
