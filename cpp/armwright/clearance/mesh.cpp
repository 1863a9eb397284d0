#include "armwright/clearance/mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <span>
#include <tuple>

#include "armwright/support/refused.hpp"

namespace armwright {

namespace {

using Indices = std::array<std::int32_t, 3>;
constexpr std::int32_t leaf_size = 4;

double coordinate(const Vec3& v, int axis) { return axis == 0 ? v.x : axis == 1 ? v.y : v.z; }

// Corners at the very same place become one; files of single triangles repeat them.
std::vector<std::int32_t> weld(const std::vector<Vec3>& points, std::vector<Vec3>& corners) {
  std::vector<std::int32_t> order(points.size()), to(points.size());
  std::iota(order.begin(), order.end(), 0);
  const auto key = [&](std::int32_t i) {
    const Vec3& p = points[static_cast<std::size_t>(i)];
    return std::tuple(p.x, p.y, p.z);
  };
  std::sort(order.begin(), order.end(), [&](std::int32_t i, std::int32_t j) { return std::pair(key(i), i) < std::pair(key(j), j); });
  for (std::size_t k = 0; k < order.size(); ++k) {
    if (k == 0 || key(order[k]) != key(order[k - 1])) corners.push_back(points[static_cast<std::size_t>(order[k])]);
    to[static_cast<std::size_t>(order[k])] = static_cast<std::int32_t>(corners.size()) - 1;
  }
  return to;
}

struct Edge {
  std::int32_t from, to, triangle;
};

// All directed edges, sorted so that an edge is found by its ends.
std::vector<Edge> directed_edges(const std::vector<Indices>& triangles) {
  std::vector<Edge> edges;
  edges.reserve(3 * triangles.size());
  for (std::size_t t = 0; t < triangles.size(); ++t)
    for (std::size_t e = 0; e < 3; ++e) edges.push_back({triangles[t][e], triangles[t][(e + 1) % 3], static_cast<std::int32_t>(t)});
  std::sort(edges.begin(), edges.end(), [](const Edge& x, const Edge& y) { return std::tie(x.from, x.to, x.triangle) < std::tie(y.from, y.to, y.triangle); });
  return edges;
}

std::span<const Edge> edges_between(const std::vector<Edge>& edges, std::int32_t from, std::int32_t to) {
  const auto less = [](const Edge& x, const Edge& y) { return std::tie(x.from, x.to) < std::tie(y.from, y.to); };
  const auto [first, last] = std::equal_range(edges.begin(), edges.end(), Edge{from, to, 0}, less);
  return {first, last};
}

void check_closed(const std::string& key, const std::vector<Edge>& edges) {
  std::size_t open = 0;
  for (std::size_t i = 0; i < edges.size();) {
    const auto same = edges_between(edges, edges[i].from, edges[i].to);
    const auto back = edges_between(edges, edges[i].to, edges[i].from);
    open += same.size() > back.size() ? same.size() - back.size() : 0;
    i += same.size();
  }
  if (open != 0)
    throw Refused(key, "an open surface: " + std::to_string(open) + " edges with no triangle on the other side",
                  "a closed mesh, all triangles turning the same way");
}

std::int32_t root_of(std::vector<std::int32_t>& parent, std::int32_t i) {
  const auto at = [&](std::int32_t k) -> std::int32_t& { return parent[static_cast<std::size_t>(k)]; };
  while (at(i) != i) i = at(i) = at(at(i));
  return i;
}

// One corner of each connected piece.
std::vector<Vec3> pieces(const std::vector<Vec3>& corners, const std::vector<Indices>& triangles) {
  std::vector<std::int32_t> parent(corners.size());
  std::iota(parent.begin(), parent.end(), 0);
  for (const auto& t : triangles)
    for (const std::int32_t other : {t[1], t[2]}) parent[static_cast<std::size_t>(root_of(parent, other))] = root_of(parent, t[0]);
  std::vector<Vec3> samples;
  std::vector<bool> used(corners.size(), false);
  for (const auto& t : triangles) {
    const auto root = static_cast<std::size_t>(root_of(parent, t[0]));
    if (!used[root]) samples.push_back(corners[root]);
    used[root] = true;
  }
  return samples;
}

// Flat faces of a file in single precision are not quite flat: what stands out by less than this share of the size
// does not count. Comparing every corner with every face is worth it up to some size only; no harm is done by calling
// a convex mesh not convex.
constexpr double flat_share = 1e-7;
constexpr std::size_t most_comparisons = 50'000'000;

bool is_convex(const Mesh& mesh, double size) {
  if (mesh.samples.size() != 1 || mesh.corners.size() * mesh.triangles.size() > most_comparisons) return false;
  for (const auto& face : mesh.triangles)
    for (const Vec3& p : mesh.corners)
      if (dot(p - face.corner[0], face.normal) > flat_share * size) return false;
  return true;
}

Mesh::Node bounds(const Mesh::Triangle* first, std::int32_t start, std::int32_t count) {
  Vec3 low = first->corner[0], high = low;
  for (std::int32_t i = 0; i < count; ++i) {
    for (const Vec3& p : first[i].corner) {
      low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
    }
  }
  const Vec3 half = 0.5 * (high - low);
  // A rounding of the centre must not push a corner out of the box.
  const double slack = 1e-15 * (norm(low) + norm(high));
  return {0.5 * (low + high), {half.x + slack, half.y + slack, half.z + slack}, start, count};
}

// Splits the longest side at the middle triangle, until few are left.
void split(Mesh& mesh, std::size_t node) {
  const Mesh::Node here = mesh.nodes[node];
  if (here.count <= leaf_size) return;
  const int axis = here.half.x >= here.half.y && here.half.x >= here.half.z ? 0 : here.half.y >= here.half.z ? 1 : 2;
  const auto middle_of = [&](const Mesh::Triangle& t) { return coordinate(t.corner[0] + t.corner[1] + t.corner[2], axis); };
  const auto first = mesh.triangles.begin() + here.first;
  const std::int32_t half = here.count / 2;
  std::nth_element(first, first + half, first + here.count, [&](const Mesh::Triangle& x, const Mesh::Triangle& y) { return middle_of(x) < middle_of(y); });
  const std::size_t children = mesh.nodes.size();
  mesh.nodes.push_back(bounds(&*first, here.first, half));
  mesh.nodes.push_back(bounds(&*first + half, here.first + half, here.count - half));
  mesh.nodes[node].first = static_cast<std::int32_t>(children);
  mesh.nodes[node].count = 0;
  split(mesh, children);
  split(mesh, children + 1);
}

}  // namespace

Mesh build_mesh(const std::string& key, const std::vector<Vec3>& points, const std::vector<Indices>& given, bool& convex) {
  if (given.empty() || points.empty()) throw Refused(key, "an empty mesh", "a closed mesh");
  if (given.size() > max_triangles)
    throw Refused(key, std::to_string(given.size()) + " triangles", "at most " + std::to_string(max_triangles) + ": reduce the mesh");
  const auto count = static_cast<std::int64_t>(points.size());
  for (const auto& t : given)
    for (const std::int32_t i : t)
      if (i < 0 || i >= count) throw Refused(key, "a triangle of point " + std::to_string(i), "points 0 to " + std::to_string(count - 1));

  Mesh mesh;
  const auto to = weld(points, mesh.corners);
  std::vector<Indices> triangles;
  for (const auto& t : given) {
    const Indices welded{to[static_cast<std::size_t>(t[0])], to[static_cast<std::size_t>(t[1])], to[static_cast<std::size_t>(t[2])]};
    // A triangle of which two corners are one closes nothing: its other two edges undo each other.
    if (welded[0] != welded[1] && welded[1] != welded[2] && welded[2] != welded[0]) triangles.push_back(welded);
  }
  const auto edges = directed_edges(triangles);
  check_closed(key, edges);
  if (triangles.empty()) throw Refused(key, "a mesh of points and lines only", "a closed mesh");

  const Vec3 origin = mesh.corners.front();
  const auto at = [&](std::int32_t i) { return mesh.corners[static_cast<std::size_t>(i)]; };
  double volume = 0, size = 0;
  for (const Vec3& p : mesh.corners) size = std::max(size, norm(p - origin));
  for (const auto& t : triangles) volume += dot(cross(at(t[0]) - origin, at(t[1]) - origin), at(t[2]) - origin) / 6;
  if (!(std::fabs(volume) > 1e-12 * size * size * size)) throw Refused(key, "a mesh that encloses no volume", "a closed mesh with a volume");

  for (const auto& t : triangles) {
    Mesh::Triangle face{{at(t[0]), at(t[1]), at(t[2])}, {0, 0, 0}, {0, 0, 0}, 0};
    if (volume < 0) std::swap(face.corner[1], face.corner[2]);
    const Vec3 n = cross(face.corner[1] - face.corner[0], face.corner[2] - face.corner[0]);
    if (norm(n) > 0) face.normal = (1 / norm(n)) * n;
    face.centre = (1.0 / 3) * (face.corner[0] + face.corner[1] + face.corner[2]);
    for (const Vec3& p : face.corner) face.radius = std::max(face.radius, norm(p - face.centre) * (1 + 1e-12));
    mesh.triangles.push_back(face);
  }
  mesh.samples = pieces(mesh.corners, triangles);
  convex = is_convex(mesh, size);
  mesh.nodes.push_back(bounds(mesh.triangles.data(), 0, static_cast<std::int32_t>(mesh.triangles.size())));
  split(mesh, 0);
  return mesh;
}

}  // namespace armwright
