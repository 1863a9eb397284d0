#include <cmath>
#include <limits>

#include "armwright/clearance/convex.hpp"
#include "armwright/clearance/mesh.hpp"
#include "armwright/clearance/triangles.hpp"

namespace armwright {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

struct Box {
  Vec3 centre, half;
};

Vec3 around(const Rotation& R, const Vec3& half) {
  return {std::fabs(R.x.x) * half.x + std::fabs(R.y.x) * half.y + std::fabs(R.z.x) * half.z,
          std::fabs(R.x.y) * half.x + std::fabs(R.y.y) * half.y + std::fabs(R.z.y) * half.z,
          std::fabs(R.x.z) * half.x + std::fabs(R.y.z) * half.y + std::fabs(R.z.z) * half.z};
}

double gap_square(const Box& a, const Mesh::Node& b) {
  const Vec3 out = excess(a.centre - b.centre, a.half + b.half);
  return dot(out, out);
}

// A stack of tree nodes to look at; the tree halves its triangles, so it is never deeper than some 20.
template <class Item>
struct Stack {
  Item item[128];
  int count = 0;
  void push(const Item& x) { item[count++] = x; }
  Item pop() { return item[--count]; }
};

// Calls visit(triangle) for the triangles of all leaves whose box is nearer than `limit` (squared; visit may lower it).
template <class Visit>
void nearby(const Mesh& mesh, const Box& box, double& limit, const Visit& visit) {
  Stack<std::int32_t> stack;
  stack.push(0);
  while (stack.count > 0) {
    const Mesh::Node& node = mesh.nodes[static_cast<std::size_t>(stack.pop())];
    if (gap_square(box, node) > limit) continue;
    if (node.count > 0) {
      for (std::int32_t i = 0; i < node.count; ++i) visit(mesh.triangles[static_cast<std::size_t>(node.first + i)]);
      continue;
    }
    const double first = gap_square(box, mesh.nodes[static_cast<std::size_t>(node.first)]);
    const double second = gap_square(box, mesh.nodes[static_cast<std::size_t>(node.first) + 1]);
    stack.push(first <= second ? node.first + 1 : node.first);
    stack.push(first <= second ? node.first : node.first + 1);  // the nearer child first
  }
}

// A core seen from the mesh.
struct Seen {
  const Core& core;
  const Pose& X_MC;
  Vec3 point[8];  // its points, for a point or a segment, or a box's corners

  Seen(const Core& c, const Pose& X) : core(c), X_MC(X), point{} {
    if (core.kind == Core::Kind::points && core.count <= 2)
      for (std::size_t i = 0; i < core.count; ++i) point[i] = X_MC * core.points[i];
    if (core.kind == Core::Kind::box)
      for (int i = 0; i < 8; ++i) point[i] = X_MC * Vec3{i & 1 ? core.half.x : -core.half.x, i & 2 ? core.half.y : -core.half.y, i & 4 ? core.half.z : -core.half.z};
  }
  Vec3 lowest(const Vec3& way) const { return X_MC * support(core, transpose_times(X_MC.rotation, -way)); }
  Box box() const {
    if (core.kind != Core::Kind::points) return {X_MC.position, around(X_MC.rotation, core.half)};
    Vec3 low, high;
    low = {lowest({1, 0, 0}).x, lowest({0, 1, 0}).y, lowest({0, 0, 1}).z};
    high = {lowest({-1, 0, 0}).x, lowest({0, -1, 0}).y, lowest({0, 0, -1}).z};
    return {0.5 * (low + high), 0.5 * (high - low)};
  }
  Nearest to(const Mesh::Triangle& t) const;

 private:
  Nearest box_to(const Mesh::Triangle& t) const;
};

Nearest Seen::box_to(const Mesh::Triangle& t) const {
  // An edge of the triangle may be nearest to the box, or a corner of the box to the triangle, or it is pierced.
  Nearest best{infinity, {0, 0, 0}, {0, 0, 0}};
  Vec3 local[3];
  for (int i = 0; i < 3; ++i) local[i] = transpose_times(X_MC.rotation, t.corner[i] - X_MC.position);
  for (int i = 0; i < 3; ++i) {
    const Vec3 &p = local[i], &q = local[(i + 1) % 3];
    const Vec3 centre = 0.5 * (p + q), way = 0.5 * (q - p);
    const Vec3 at = centre + nearest_to_box(centre, way, core.half) * way;
    const Vec3 out = excess(at, core.half);
    best = nearer(best, {dot(out, out), X_MC * (at - out), X_MC * at});
  }
  for (int i = 0; i < 8 && best.square > 0; ++i) best = nearer(best, point_triangle(point[i], t.corner[0], t.corner[1], t.corner[2]));
  for (int i = 0; i < 8 && best.square > 0; ++i) {
    for (const int axis : {1, 2, 4}) {
      Vec3 x;
      if ((i & axis) == 0 && crosses(point[i], point[i | axis], t.corner[0], t.corner[1], t.corner[2], x)) best = {0, x, x};
    }
  }
  return best;
}

Nearest Seen::to(const Mesh::Triangle& t) const {
  if (core.kind == Core::Kind::box) return box_to(t);
  if (core.kind == Core::Kind::points && core.count == 1) return point_triangle(point[0], t.corner[0], t.corner[1], t.corner[2]);
  if (core.kind == Core::Kind::points && core.count == 2) return segment_triangle(point[0], point[1], t.corner[0], t.corner[1], t.corner[2]);
  Core other;
  other.kind = Core::Kind::points;
  other.points = t.corner;
  other.count = 3;
  const Separation s = convex_gap(core, other, inverse(X_MC));
  return {s.distance * s.distance, X_MC * s.a, X_MC * s.b};
}

// The least of several ways out: the solid whose lowest point along `way` is given is to be lifted above a plane.
struct Lift {
  double depth = infinity;
  Vec3 way{0, 0, 1}, lowest{0, 0, 0};
  void offer(double here, const Vec3& direction, const Vec3& point) {
    if (here < depth) depth = here, way = direction, lowest = point;
  }
  Separation separation() const { return {-depth, lowest, lowest + depth * way}; }
};

constexpr Vec3 six_ways[6] = {{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}};

template <class Lowest>
void offer_box(Lift& lift, const Mesh::Node& root, const Lowest& lowest) {
  for (const Vec3& way : six_ways) {
    const Vec3 p = lowest(way);
    const double top = dot(root.centre, way) + root.half.x * std::fabs(way.x) + root.half.y * std::fabs(way.y) + root.half.z * std::fabs(way.z);
    lift.offer(top - dot(p, way), way, p);
  }
}

}  // namespace

Vec3 farthest_corner(const Mesh& mesh, const Vec3& way) {
  const auto top = [&](const Mesh::Node& n) {
    return dot(n.centre, way) + n.half.x * std::fabs(way.x) + n.half.y * std::fabs(way.y) + n.half.z * std::fabs(way.z);
  };
  Stack<std::int32_t> stack;
  stack.push(0);
  double most = -infinity;
  Vec3 best{0, 0, 0};
  while (stack.count > 0) {
    const Mesh::Node& node = mesh.nodes[static_cast<std::size_t>(stack.pop())];
    if (top(node) <= most) continue;
    if (node.count == 0) {
      const bool first = top(mesh.nodes[static_cast<std::size_t>(node.first)]) >= top(mesh.nodes[static_cast<std::size_t>(node.first) + 1]);
      stack.push(first ? node.first + 1 : node.first);
      stack.push(first ? node.first : node.first + 1);
      continue;
    }
    for (std::int32_t i = 0; i < node.count; ++i)
      for (const Vec3& p : mesh.triangles[static_cast<std::size_t>(node.first + i)].corner)
        if (dot(p, way) > most) most = dot(p, way), best = p;
  }
  return best;
}

Separation core_mesh(const Core& core, const Pose& X_MC, const Mesh& mesh, double cutoff) {
  const Seen seen(core, X_MC);
  const Box box = seen.box();
  Nearest best{cutoff < infinity ? cutoff * std::fabs(cutoff) : infinity, {0, 0, 0}, {0, 0, 0}};
  best.square = std::fmax(best.square, 0);
  const Mesh::Triangle* nearest = nullptr;
  double limit = best.square;
  nearby(mesh, box, limit, [&](const Mesh::Triangle& t) {
    if (nearest != nullptr && limit == 0) return;
    const Nearest here = seen.to(t);
    if (here.square < best.square || (here.square == best.square && nearest == nullptr)) best = here, nearest = &t, limit = here.square;
  });
  const auto lowest = [&](const Vec3& way) { return seen.lowest(way); };
  const auto out_through = [&](Lift& lift, const Mesh::Triangle& t) {
    if (dot(t.normal, t.normal) == 0) return;
    const Vec3 p = lowest(t.normal);
    lift.offer(dot(t.corner[0] - p, t.normal), t.normal, p);
  };
  if (nearest != nullptr && best.square == 0) {
    Lift lift;
    double touching = 0;
    nearby(mesh, box, touching, [&](const Mesh::Triangle& t) {
      if (seen.to(t).square == 0) out_through(lift, t);
    });
    offer_box(lift, mesh.nodes[0], lowest);
    if (lift.depth < 0) lift.depth = 0;  // touches from outside, to rounding
    return lift.separation();
  }
  if (contains(mesh, lowest({1, 0, 0}))) {
    if (nearest == nullptr) return core_mesh(core, X_MC, mesh, infinity);
    Lift lift;
    out_through(lift, *nearest);
    offer_box(lift, mesh.nodes[0], lowest);
    return lift.separation();
  }
  return {std::sqrt(best.square), best.a, best.b};
}

namespace {

struct NodePair {
  std::int32_t a, b;
};

// Calls visit(triangle of a, triangle of b as seen from a) for all pairs of leaves nearer than `limit` (squared).
template <class Visit>
void nearby_pairs(const Mesh& a, const Mesh& b, const Pose& X_AB, double& limit, const Visit& visit) {
  const auto gap = [&](const NodePair& pair) {
    const Mesh::Node& other = b.nodes[static_cast<std::size_t>(pair.b)];
    return gap_square({X_AB * other.centre, around(X_AB.rotation, other.half)}, a.nodes[static_cast<std::size_t>(pair.a)]);
  };
  const auto volume = [](const Mesh::Node& n) { return n.half.x + n.half.y + n.half.z; };
  Stack<NodePair> stack;
  stack.push({0, 0});
  while (stack.count > 0) {
    const NodePair pair = stack.pop();
    if (gap(pair) > limit) continue;
    const Mesh::Node &m = a.nodes[static_cast<std::size_t>(pair.a)], &n = b.nodes[static_cast<std::size_t>(pair.b)];
    if (m.count > 0 && n.count > 0) {
      for (std::int32_t j = 0; j < n.count; ++j) {
        Mesh::Triangle t = b.triangles[static_cast<std::size_t>(n.first + j)];
        for (Vec3& p : t.corner) p = X_AB * p;
        t.normal = X_AB.rotation * t.normal;
        for (std::int32_t i = 0; i < m.count; ++i) visit(a.triangles[static_cast<std::size_t>(m.first + i)], t);
      }
      continue;
    }
    const bool split_a = n.count > 0 || (m.count == 0 && volume(m) >= volume(n));
    const NodePair first = split_a ? NodePair{m.first, pair.b} : NodePair{pair.a, n.first};
    const NodePair second = split_a ? NodePair{m.first + 1, pair.b} : NodePair{pair.a, n.first + 1};
    const bool ordered = gap(first) <= gap(second);
    stack.push(ordered ? second : first);
    stack.push(ordered ? first : second);
  }
}

// How far `lifted` reaches below the plane of `t`.
void offer_triangle(Lift& lift, const Mesh::Triangle& lifted, const Mesh::Triangle& t, bool other_way) {
  if (dot(t.normal, t.normal) == 0) return;
  const Vec3* lowest = &lifted.corner[0];
  for (const Vec3& p : lifted.corner)
    if (dot(p, t.normal) < dot(*lowest, t.normal)) lowest = &p;
  const double depth = dot(t.corner[0] - *lowest, t.normal);
  // Lifting the second body is the same as moving the first the other way.
  if (other_way) lift.offer(depth, -t.normal, *lowest + depth * t.normal);
  else lift.offer(depth, t.normal, *lowest);
}

}  // namespace

Separation mesh_mesh(const Mesh& a, const Mesh& b, const Pose& X_AB, double cutoff) {
  Nearest best{cutoff < infinity ? std::fmax(cutoff, 0) * std::fmax(cutoff, 0) : infinity, {0, 0, 0}, {0, 0, 0}};
  bool found = false;
  Mesh::Triangle on_a{}, on_b{};
  double limit = best.square;
  nearby_pairs(a, b, X_AB, limit, [&](const Mesh::Triangle& s, const Mesh::Triangle& t) {
    if (found && limit == 0) return;
    const Nearest here = triangle_triangle(s.corner, t.corner);
    if (here.square < best.square || (here.square == best.square && !found)) best = here, found = true, limit = here.square, on_a = s, on_b = t;
  });
  const auto lowest_a = [&](const Vec3& way) { return farthest_corner(a, -way); };
  const auto lowest_b = [&](const Vec3& way) { return X_AB * farthest_corner(b, transpose_times(X_AB.rotation, -way)); };
  Lift out;
  if (found && best.square == 0) {
    Lift worst;
    worst.depth = 0;
    worst.lowest = best.a;
    double touching = 0;
    nearby_pairs(a, b, X_AB, touching, [&](const Mesh::Triangle& s, const Mesh::Triangle& t) {
      if (triangle_triangle(s.corner, t.corner).square != 0) return;
      Lift lift;
      offer_triangle(lift, s, t, false);
      offer_triangle(lift, t, s, true);
      if (lift.depth < infinity && lift.depth > worst.depth) worst = lift;
    });
    out = worst;
  } else {
    const Pose X_BA = inverse(X_AB);
    bool a_inside = false, b_inside = false;
    for (const Vec3& p : a.samples) a_inside = a_inside || contains(b, X_BA * p);
    for (const Vec3& p : b.samples) b_inside = b_inside || contains(a, X_AB * p);
    if (!a_inside && !b_inside) return {std::sqrt(best.square), best.a, best.b};
    if (!found) return mesh_mesh(a, b, X_AB, infinity);
    if (a_inside) {
      const Vec3 p = lowest_a(on_b.normal);
      out.offer(dot(on_b.corner[0] - p, on_b.normal), on_b.normal, p);
    } else {
      const Vec3 p = lowest_b(on_a.normal);
      const double depth = dot(on_a.corner[0] - p, on_a.normal);
      out.offer(depth, -on_a.normal, p + depth * on_a.normal);
    }
  }
  for (const Vec3& way : six_ways) {  // out of the first's box, or of the second's
    const Vec3 high_a = lowest_a(-way), low_b = lowest_b(way);
    const double depth = dot(high_a - low_b, way);
    out.offer(depth, -way, high_a);
    const Vec3 turned = X_AB.rotation * way;
    const Vec3 high = lowest_a(-turned), low = lowest_b(turned);
    out.offer(dot(high - low, turned), -turned, high);
  }
  if (out.depth < 0) out.depth = 0;
  return out.separation();
}

}  // namespace armwright
