#include <cmath>
#include <limits>

#include "armwright/clearance/mesh.hpp"
#include "armwright/clearance/mesh_walk.hpp"
#include "armwright/clearance/triangles.hpp"

namespace armwright {

using namespace walk;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

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
  out.depth = std::fmax(out.depth, 0);
  return out.separation();
}

}  // namespace armwright
