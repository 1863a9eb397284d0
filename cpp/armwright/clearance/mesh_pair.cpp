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
  double gap = 0;
};

// Calls visit(triangle of a, triangle of b as seen from a) for all pairs of leaves nearer than `limit` (squared).
template <class Visit>
void nearby_pairs(const Mesh& a, const Mesh& b, const Pose& X_AB, double& limit, const Visit& visit) {
  const Pose X_BA = inverse(X_AB);
  const auto gap = [&](const NodePair& pair) {
    const Mesh::Node &m = a.nodes[static_cast<std::size_t>(pair.a)], &n = b.nodes[static_cast<std::size_t>(pair.b)];
    return std::fmax(gap_square({X_AB * n.centre, around(X_AB.rotation, n.half)}, m), gap_square({X_BA * m.centre, around(X_BA.rotation, m.half)}, n));
  };
  const auto volume = [](const Mesh::Node& n) { return n.half.x + n.half.y + n.half.z; };
  Stack<NodePair> stack;
  stack.push({0, 0});
  while (stack.count > 0) {
    const NodePair pair = stack.pop();
    if (pair.gap > limit) continue;
    const Mesh::Node &m = a.nodes[static_cast<std::size_t>(pair.a)], &n = b.nodes[static_cast<std::size_t>(pair.b)];
    if (m.count > 0 && n.count > 0) {
      for (std::int32_t j = 0; j < n.count; ++j) {
        Mesh::Triangle t = b.triangles[static_cast<std::size_t>(n.first + j)];
        for (Vec3& p : t.corner) p = X_AB * p;
        t.normal = X_AB.rotation * t.normal;
        t.centre = X_AB * t.centre;
        for (std::int32_t i = 0; i < m.count; ++i) {
          const Mesh::Triangle& s = a.triangles[static_cast<std::size_t>(m.first + i)];
          if (!passes(norm(s.centre - t.centre) - s.radius - t.radius, limit)) visit(s, t);
        }
      }
      continue;
    }
    const bool split_a = n.count > 0 || (m.count == 0 && volume(m) >= volume(n));
    NodePair first = split_a ? NodePair{m.first, pair.b} : NodePair{pair.a, n.first};
    NodePair second = split_a ? NodePair{m.first + 1, pair.b} : NodePair{pair.a, n.first + 1};
    first.gap = gap(first);
    second.gap = gap(second);
    const bool ordered = first.gap <= second.gap;
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

bool one_inside(const Mesh& a, const Mesh& b, const Pose& X_AB, bool& first) {
  const Pose X_BA = inverse(X_AB);
  for (const Vec3& p : a.samples)
    if (contains(b, X_BA * p)) return first = true;
  for (const Vec3& p : b.samples)
    if (contains(a, X_AB * p)) return !(first = false);
  return false;
}

bool parts(const Mesh& a, const Mesh& b, const Pose& X_AB, double depth, const Vec3& way) {
  const Pose moved{X_AB.rotation, X_AB.position - beyond(depth) * way};
  bool crossed = false, first = false;
  double touching = 0;
  nearby_pairs(a, b, moved, touching, [&](const Mesh::Triangle& s, const Mesh::Triangle& t) {
    crossed = crossed || triangle_triangle(s.corner, t.corner).square == 0;
  });
  return !crossed && !one_inside(a, b, moved, first);
}

// Out of the first's box, or of the second's.
Lift out_of_boxes(const Mesh& a, const Mesh& b, const Pose& X_AB) {
  Lift out;
  const auto offer = [&](const Vec3& way) {
    const Vec3 high = farthest_corner(a, way), low = X_AB * farthest_corner(b, transpose_times(X_AB.rotation, -way));
    out.offer(dot(high - low, way), -way, high);
  };
  for (const Vec3& way : six_ways) {
    offer(way);
    offer(X_AB.rotation * way);
  }
  return out;
}

// The longest of the short ways that part the crossing triangles, pair by pair.
Lift out_of_triangles(const Mesh& a, const Mesh& b, const Pose& X_AB) {
  Lift worst;
  worst.depth = -1;
  double touching = 0;
  nearby_pairs(a, b, X_AB, touching, [&](const Mesh::Triangle& s, const Mesh::Triangle& t) {
    if (triangle_triangle(s.corner, t.corner).square != 0) return;
    Lift lift;
    offer_triangle(lift, s, t, false);
    offer_triangle(lift, t, s, true);
    if (lift.depth < infinity && lift.depth > worst.depth) worst = lift;
  });
  return worst;
}

}  // namespace

Separation mesh_mesh(const Mesh& a, const Mesh& b, const Pose& X_AB, double cutoff) {
  const double most = std::fmax(cutoff, 0);
  Nearest best{most * most, {0, 0, 0}, {0, 0, 0}};
  bool found = false, a_inside = false;
  Mesh::Triangle on_a{}, on_b{};
  double limit = best.square;
  nearby_pairs(a, b, X_AB, limit, [&](const Mesh::Triangle& s, const Mesh::Triangle& t) {
    if (found && limit == 0) return;
    const Nearest here = triangle_triangle(s.corner, t.corner);
    if (here.square < best.square || (here.square == best.square && !found)) best = here, found = true, limit = here.square, on_a = s, on_b = t;
  });
  const bool crossed = found && best.square == 0;
  if (!crossed) {
    if (!one_inside(a, b, X_AB, a_inside)) return found ? Separation{std::sqrt(best.square), best.a, best.b} : Separation{infinity, {0, 0, 0}, {0, 0, 0}};
    if (!found) return mesh_mesh(a, b, X_AB, infinity);
  }
  Lift out = out_of_boxes(a, b, X_AB);
  Lift direct;
  if (crossed) {
    direct = out_of_triangles(a, b, X_AB);
  } else if (a_inside) {
    const Vec3 p = farthest_corner(a, -on_b.normal);
    direct.offer(dot(on_b.corner[0] - p, on_b.normal), on_b.normal, p);
  } else {
    const Vec3 p = X_AB * farthest_corner(b, transpose_times(X_AB.rotation, -on_a.normal));
    const double depth = dot(on_a.corner[0] - p, on_a.normal);
    direct.offer(depth, -on_a.normal, p + depth * on_a.normal);
  }
  if (direct.depth >= 0) lengthen(direct, out.depth, [&](double depth) { return parts(a, b, X_AB, depth, direct.way); });
  if (direct.depth >= 0 && direct.depth < out.depth) out = direct;
  out.depth = std::fmax(out.depth, 0);
  return out.separation();
}

}  // namespace armwright
