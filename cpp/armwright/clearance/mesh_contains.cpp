#include <cmath>

#include "armwright/clearance/mesh.hpp"

namespace armwright {

namespace {

enum class Hit { miss, through, unsure };

// Does the ray from p along `way` pass through the triangle? Near an edge, or along the triangle, that is unsure.
Hit hit(const Vec3& p, const Vec3& way, const Mesh::Triangle& t) {
  const Vec3 a = t.corner[0] - p, b = t.corner[1] - p, c = t.corner[2] - p;
  const double u = dot(cross(b, c), way), v = dot(cross(c, a), way), w = dot(cross(a, b), way);
  const double rounding = 1e-14 * (norm(b) * norm(c) + norm(c) * norm(a) + norm(a) * norm(b));
  const bool negative = u < -rounding || v < -rounding || w < -rounding;
  const bool positive = u > rounding || v > rounding || w > rounding;
  if (negative && positive) return Hit::miss;
  const bool near_edge = std::fabs(u) <= rounding || std::fabs(v) <= rounding || std::fabs(w) <= rounding;
  const double ahead = (u * dot(a, way) + v * dot(b, way) + w * dot(c, way)) / (u + v + w);
  if (near_edge) return ahead < 0 && std::isfinite(ahead) ? Hit::miss : Hit::unsure;
  return ahead > 0 ? Hit::through : Hit::miss;
}

bool may_meet(const Vec3& p, const Vec3& way, const Mesh::Node& node) {
  const Vec3 c = node.centre - p, h = node.half;
  // Apart along an axis, or along the normals of way and axis.
  const auto behind = [](double centre, double half, double direction) { return (centre + half < 0 && direction > 0) || (centre - half > 0 && direction < 0); };
  if (behind(c.x, h.x, way.x) || behind(c.y, h.y, way.y) || behind(c.z, h.z, way.z)) return false;
  const Vec3 n = cross(way, c);
  const Vec3 w{std::fabs(way.x), std::fabs(way.y), std::fabs(way.z)};
  const double slack = 1e-14 * (norm(c) + norm(h));
  return std::fabs(n.x) <= w.y * h.z + w.z * h.y + slack && std::fabs(n.y) <= w.z * h.x + w.x * h.z + slack && std::fabs(n.z) <= w.x * h.y + w.y * h.x + slack;
}

// How often the surface wraps round the point, from the solid angles of all triangles (A. van Oosterom, J. Strackee,
// IEEE Trans. Biomedical Engineering 30(2), 1983).
bool wrapped(const Mesh& mesh, const Vec3& p) {
  double sum = 0;
  for (const auto& t : mesh.triangles) {
    const Vec3 a = t.corner[0] - p, b = t.corner[1] - p, c = t.corner[2] - p;
    const double la = norm(a), lb = norm(b), lc = norm(c);
    sum += 2 * std::atan2(dot(a, cross(b, c)), la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
  }
  return std::fabs(sum) > 2 * 3.14159265358979323846;
}

}  // namespace

bool contains(const Mesh& mesh, const Vec3& p) {
  const Mesh::Node& root = mesh.nodes[0];
  const Vec3 c = p - root.centre;
  if (std::fabs(c.x) > root.half.x || std::fabs(c.y) > root.half.y || std::fabs(c.z) > root.half.z) return false;
  static constexpr Vec3 ways[3] = {{0.5773, 0.6211, 0.5301}, {-0.3123, 0.2719, 0.9103}, {0.1867, -0.9011, 0.3911}};  // along nothing in particular
  for (const Vec3& way : ways) {
    std::int32_t stack[128];
    int waiting = 0, crossings = 0;
    bool sure = true;
    stack[waiting++] = 0;
    while (waiting > 0 && sure) {
      const Mesh::Node& node = mesh.nodes[static_cast<std::size_t>(stack[--waiting])];
      if (!may_meet(p, way, node)) continue;
      if (node.count == 0) {
        stack[waiting++] = node.first;
        stack[waiting++] = node.first + 1;
        continue;
      }
      for (std::int32_t i = 0; i < node.count; ++i) {
        const Hit here = hit(p, way, mesh.triangles[static_cast<std::size_t>(node.first + i)]);
        sure = sure && here != Hit::unsure;
        crossings += here == Hit::through ? 1 : 0;
      }
    }
    if (sure) return crossings % 2 != 0;
  }
  return wrapped(mesh, p);
}

}  // namespace armwright
