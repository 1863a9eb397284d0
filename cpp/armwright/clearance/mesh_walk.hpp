#pragma once

#include <cmath>
#include <limits>

#include "armwright/clearance/mesh.hpp"
#include "armwright/clearance/segments.hpp"

// What the walks through a mesh's tree share.

namespace armwright::walk {

struct Box {
  Vec3 centre, half;
};

inline Vec3 around(const Rotation& R, const Vec3& half) {
  return {std::fabs(R.x.x) * half.x + std::fabs(R.y.x) * half.y + std::fabs(R.z.x) * half.z,
          std::fabs(R.x.y) * half.x + std::fabs(R.y.y) * half.y + std::fabs(R.z.y) * half.z,
          std::fabs(R.x.z) * half.x + std::fabs(R.y.z) * half.y + std::fabs(R.z.z) * half.z};
}

inline double gap_square(const Box& a, const Mesh::Node& b) {
  const Vec3 out = excess(a.centre - b.centre, a.half + b.half);
  return dot(out, out);
}

// Whether a lower bound, maybe below zero, lies beyond a limit told by its square.
inline bool passes(double bound, double limit) { return bound > 0 && bound * bound > limit; }

// A stack of tree nodes to look at; the tree halves its triangles, so it is never deeper than some 20.
template <class Item>
struct Stack {
  Item item[128];
  int count = 0;
  void push(const Item& x) { item[count++] = x; }
  Item pop() { return item[--count]; }
};

// The least of several ways out: the solid whose lowest point along `way` is given is to be lifted above a plane.
struct Lift {
  double depth = std::numeric_limits<double>::infinity();
  Vec3 way{0, 0, 1}, lowest{0, 0, 0};
  void offer(double here, const Vec3& direction, const Vec3& point) {
    if (here < depth) depth = here, way = direction, lowest = point;
  }
  Separation separation() const { return {depth > 0 ? -depth : 0.0, lowest, lowest + depth * way}; }
};

/// The shortest few of many ways out.
struct Lifts {
  static constexpr int most = 12;
  Lift lift[most];
  int count = 0;
  void offer(const Lift& one) {
    int i = count < most ? count++ : most;
    for (; i > 0 && one.depth < lift[i - 1].depth; --i)
      if (i < most) lift[i] = lift[i - 1];
    if (i < most) lift[i] = one;
  }
};

/// Moved by a little more than the way out, so that rounding does not make two solids touch that are parted.
inline double beyond(double depth) { return depth * (1 + 1e-9) + 1e-9; }

/// Lengthens a way out that is too short, up to `most`, until parts(depth) says that it parts the two.
template <class Parts>
void lengthen(Lift& lift, double most, const Parts& parts) {
  if (lift.depth >= most || parts(lift.depth)) return;
  double low = lift.depth, high = std::fmax(2 * low, 1e-3 * most);
  while (high < most && !parts(high)) low = high, high *= 2;
  for (int i = 0; i < 20 && high < most; ++i) {
    const double middle = 0.5 * (low + high);
    (parts(middle) ? high : low) = middle;
  }
  lift.depth = high;
}

inline constexpr Vec3 six_ways[6] = {{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}};

}  // namespace armwright::walk
