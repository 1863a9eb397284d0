#include <cmath>
#include <limits>

#include "armwright/clearance/convex.hpp"
#include "armwright/clearance/mesh.hpp"
#include "armwright/clearance/mesh_walk.hpp"
#include "armwright/clearance/triangles.hpp"

namespace armwright {

using namespace walk;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// A core seen from the mesh.
struct Seen {
  const Core& core;
  const Pose& X_MC;
  Vec3 point[8];  // its points, for a point or a segment, or a box's corners

  Rotation turned;  // the mesh's axes seen from the core
  Box box;          // around the core, along the mesh's axes

  Seen(const Core& c, const Pose& X) : core(c), X_MC(X), point{}, turned(transpose(X.rotation)), box{X * c.box_centre, around(X.rotation, c.box_half)} {
    if (core.kind == Core::Kind::points && core.count <= 2)
      for (std::size_t i = 0; i < core.count; ++i) point[i] = X_MC * core.points[i];
    if (core.kind == Core::Kind::box)
      for (int i = 0; i < 8; ++i) point[i] = X_MC * Vec3{i & 1 ? core.half.x : -core.half.x, i & 2 ? core.half.y : -core.half.y, i & 4 ? core.half.z : -core.half.z};
  }
  Vec3 lowest(const Vec3& way) const { return X_MC * support(core, transpose_times(X_MC.rotation, -way)); }
  // No more than the distance of the core from a point, or its square from a box of the tree: the gaps along the axes of
  // the mesh and along those of the core.
  double to_point(const Vec3& p) const {
    const Vec3 q = transpose_times(X_MC.rotation, p - X_MC.position);
    return norm(excess(q - core.box_centre, core.box_half));
  }
  double gap_square(const Mesh::Node& node) const {
    if (core.kind == Core::Kind::points && core.count == 2) {
      const Vec3 centre = 0.5 * (point[0] + point[1]) - node.centre, way = 0.5 * (point[1] - point[0]);
      const Vec3 out = excess(centre + nearest_to_box(centre, way, node.half) * way, node.half);
      return dot(out, out);
    }
    const Vec3 p = transpose_times(X_MC.rotation, node.centre - X_MC.position);
    const Vec3 out = excess(p - core.box_centre, core.box_half + around(turned, node.half));
    return std::fmax(dot(out, out), walk::gap_square(box, node));
  }
  // Above `limit` (squared) it need not be exact.
  Nearest to(const Mesh::Triangle& t, double limit) const;

  // A plane that has the whole core on one side: nothing beyond it is nearer to the core than to the plane. The one square to
  // the shortest way found so far shuts off most of what the boxes do not.
  void wall_off(const Nearest& nearest) {
    const double length = std::sqrt(nearest.square);
    if (!(length > 0)) return;
    wall = (1 / length) * (nearest.b - nearest.a);
    wall_at = dot(lowest(-wall), wall);
    walled = true;
  }
  bool beyond_wall(const Mesh::Node& node, double limit) const {
    const double least = dot(node.centre, wall) - std::fabs(wall.x) * node.half.x - std::fabs(wall.y) * node.half.y - std::fabs(wall.z) * node.half.z;
    return walled && passes(least - wall_at, limit);
  }
  bool beyond_wall(const Mesh::Triangle& t, double limit) const {
    return walled && passes(std::fmin(dot(t.corner[0], wall), std::fmin(dot(t.corner[1], wall), dot(t.corner[2], wall))) - wall_at, limit);
  }

 private:
  Vec3 wall{0, 0, 0};
  double wall_at = 0;
  bool walled = false;
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

Nearest Seen::to(const Mesh::Triangle& t, double limit) const {
  if (core.kind == Core::Kind::box) return box_to(t);
  if (core.kind == Core::Kind::points && core.count == 1) return point_triangle(point[0], t.corner[0], t.corner[1], t.corner[2]);
  if (core.kind == Core::Kind::points && core.count == 2) return segment_triangle(point[0], point[1], t.corner[0], t.corner[1], t.corner[2]);
  Core other;
  other.kind = Core::Kind::points;
  other.points = t.corner;
  other.count = 3;
  const Vec3 way = transpose_times(X_MC.rotation, walled ? wall : t.centre - box.centre);
  const Separation s = convex_gap(core, other, inverse(X_MC), way, std::sqrt(limit));
  return {s.distance * s.distance, X_MC * s.a, X_MC * s.b};
}

// Calls visit(triangle) for the triangles that may be nearer than `limit` (squared; visit may lower it).
template <class Visit>
void nearby(const Mesh& mesh, const Seen& seen, double& limit, const Visit& visit) {
  struct Item {
    std::int32_t node;
    double gap;
  };
  Stack<Item> stack;
  stack.push({0, seen.gap_square(mesh.nodes[0])});
  while (stack.count > 0) {
    const Item item = stack.pop();
    if (item.gap > limit) continue;
    const Mesh::Node& node = mesh.nodes[static_cast<std::size_t>(item.node)];
    if (seen.beyond_wall(node, limit)) continue;
    if (node.count > 0) {
      for (std::int32_t i = 0; i < node.count; ++i) {
        const Mesh::Triangle& t = mesh.triangles[static_cast<std::size_t>(node.first + i)];
        if (!seen.beyond_wall(t, limit) && !passes(seen.to_point(t.centre) - t.radius, limit)) visit(t);
      }
      continue;
    }
    const Item first{node.first, seen.gap_square(mesh.nodes[static_cast<std::size_t>(node.first)])};
    const Item second{node.first + 1, seen.gap_square(mesh.nodes[static_cast<std::size_t>(node.first) + 1])};
    stack.push(first.gap <= second.gap ? second : first);
    stack.push(first.gap <= second.gap ? first : second);  // the nearer child first
  }
}

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

namespace {

// Whether the core, moved, keeps its radius from the mesh.
bool parts(const Core& core, double radius, const Pose& X_MC, const Mesh& mesh, double depth, const Vec3& way) {
  const Pose moved{X_MC.rotation, X_MC.position + beyond(depth) * way};
  const Seen seen(core, moved);
  double limit = radius * radius;
  bool met = false;
  nearby(mesh, seen, limit, [&](const Mesh::Triangle& t) { met = met || seen.to(t, limit).square <= limit; });
  return !met && !contains(mesh, seen.lowest({1, 0, 0}));
}

// The shortest of the ways out that are tried and do part the two. Out of the mesh's box always does.
Lift way_out(const Seen& seen, double radius, const Mesh& mesh, const Lifts& tried) {
  Lift out;
  offer_box(out, mesh.nodes[0], [&](const Vec3& way) { return seen.lowest(way) - radius * way; });
  for (int i = 0; i < tried.count && tried.lift[i].depth < out.depth; ++i)
    if (parts(seen.core, radius, seen.X_MC, mesh, tried.lift[i].depth, tried.lift[i].way)) out = tried.lift[i];
  out.depth = std::fmax(out.depth, 0);  // touches from outside, to rounding
  return out;
}

// The core is outside, but nearer than its radius. Straight away from the nearest point may end in another wall.
Separation round_way_out(const Seen& seen, double radius, const Mesh& mesh, const Nearest& nearest) {
  const double distance = std::sqrt(nearest.square);
  Lift out = way_out(seen, radius, mesh, {}), direct;
  const Vec3 way = (1 / distance) * (nearest.a - nearest.b);
  direct.offer(radius - distance, way, nearest.a - radius * way);
  lengthen(direct, out.depth, [&](double depth) { return parts(seen.core, radius, seen.X_MC, mesh, depth, way); });
  return (direct.depth < out.depth ? direct : out).separation();
}

void offer_triangle(Lifts& lifts, const Seen& seen, double radius, const Mesh::Triangle& t) {
  if (dot(t.normal, t.normal) == 0) return;
  const Vec3 p = seen.lowest(t.normal) - radius * t.normal;
  Lift lift;
  lift.offer(dot(t.corner[0] - p, t.normal), t.normal, p);
  lifts.offer(lift);
}

}  // namespace

Separation core_mesh(const Core& core, double radius, const Pose& X_MC, const Mesh& mesh, double cutoff) {
  Seen seen(core, X_MC);
  const double most = std::fmax(cutoff + radius, 0);
  Nearest best{most * most, {0, 0, 0}, {0, 0, 0}};
  const Mesh::Triangle* nearest = nullptr;
  double limit = best.square;
  nearby(mesh, seen, limit, [&](const Mesh::Triangle& t) {
    if (nearest != nullptr && limit == 0) return;
    const Nearest here = seen.to(t, limit);
    if (!(here.square < best.square || (here.square == best.square && nearest == nullptr))) return;
    best = here, nearest = &t, limit = here.square;
    seen.wall_off(best);
  });
  Lifts lifts;
  if (nearest != nullptr && best.square == 0) {
    double touching = 0;
    nearby(mesh, seen, touching, [&](const Mesh::Triangle& t) {
      if (seen.to(t, 0).square == 0) offer_triangle(lifts, seen, radius, t);
    });
    return way_out(seen, radius, mesh, lifts).separation();
  }
  if (contains(mesh, seen.lowest({1, 0, 0}))) {
    if (nearest == nullptr) return core_mesh(core, radius, X_MC, mesh, infinity);
    offer_triangle(lifts, seen, radius, *nearest);
    return way_out(seen, radius, mesh, lifts).separation();
  }
  if (nearest == nullptr) return {infinity, {0, 0, 0}, {0, 0, 0}};
  const double distance = std::sqrt(best.square);
  if (distance < radius) return round_way_out(seen, radius, mesh, best);
  return {distance - radius, best.a - (radius / distance) * (best.a - best.b), best.b};
}

}  // namespace armwright
