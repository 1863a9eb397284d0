#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <span>

#include "armwright/clearance/convex.hpp"
#include "armwright/clearance/triangles.hpp"

namespace armwright {

namespace {

struct Face {
  std::array<int, 3> corner;   // counter-clockwise seen from outside
  std::array<int, 3> beside;   // the face across the edge from corner i to corner i + 1
  Vec3 normal;
  double plane;                // normal · x on the face
  bool alive, seen;
};

// An edge of the hole that the seen faces leave: between two corners, with the face that stays outside of it.
struct Rim {
  int from, to, outside;
  std::size_t outside_edge;
  int made;  // the new face upon it
};

// A closed polytope within the set of differences, every face a triangle.
class Polytope {
 public:
  static constexpr int most_corners = 400, most_faces = 800;  // a closed surface of n corners has 2 n - 4 triangles

  Polytope(const Core& a, const Core& b, const Pose& X_AB) : a_(a), b_(b), X_AB_(X_AB) {}

  Corner farthest_along(const Vec3& way) const { return farthest(a_, b_, X_AB_, way); }
  bool begin();
  bool grow(int at, const Corner& corner);
  int lowest_face() const;
  const Face& face(int i) const { return faces_[static_cast<std::size_t>(i)]; }
  const Corner& corner(int i) const { return corners_[static_cast<std::size_t>(i)]; }
  double size() const { return size_; }
  bool full() const { return corner_count_ == most_corners; }

 private:
  Face& at(int i) { return faces_[static_cast<std::size_t>(i)]; }
  int add_face(int i, int j, int k);
  bool close_rim(std::span<Rim> rim, const Corner& added);
  bool sees(const Face& face, const Vec3& p) const { return dot(face.normal, p) - face.plane > -flat(); }
  double flat() const { return 1e-11 * size_; }  // faces that a point overtops by less are taken as level with it

  const Core &a_, &b_;
  const Pose& X_AB_;
  std::array<Corner, most_corners> corners_;
  std::array<Face, most_faces> faces_;
  std::array<int, most_faces> free_;  // places of faces taken away
  int corner_count_ = 0, face_count_ = 0, free_count_ = 0;
  double size_ = 0;
};

int Polytope::add_face(int i, int j, int k) {
  const int place = free_count_ > 0 ? free_[static_cast<std::size_t>(--free_count_)] : face_count_++;
  Face& face = at(place);
  face.corner = {i, j, k};
  face.alive = true;
  face.seen = false;
  const Vec3 &p = corner(i).w, &q = corner(j).w, &r = corner(k).w;
  const Vec3 n = cross(q - p, r - p);
  const double length = norm(n);
  face.normal = length > 0 ? (1 / length) * n : Vec3{0, 0, 0};
  face.plane = std::max({dot(face.normal, p), dot(face.normal, q), dot(face.normal, r)});
  return place;
}

// Four corners far apart: two along x, the third off their line, the fourth off their plane.
bool Polytope::begin() {
  corners_[0] = farthest_along({1, 0, 0});
  corners_[1] = farthest_along({-1, 0, 0});
  for (const Vec3 way : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}})
    size_ = std::max(size_, dot(farthest_along(way).w - farthest_along(-way).w, way));
  if (!(size_ > 0)) return false;
  const Vec3 x = corners_[1].w - corners_[0].w;
  if (!(norm(x) > 1e-12 * size_)) return false;
  const Vec3 helper = std::fabs(x.y) < std::fabs(x.z) ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
  const Vec3 y = cross(x, helper), z = cross(x, y);
  double off = 0;
  for (const Vec3& way : {y, -y, z, -z}) {
    const Corner here = farthest_along(way);
    const double square = norm(cross(here.w - corners_[0].w, x));
    if (square > off) off = square, corners_[2] = here;
  }
  if (!(off > 1e-12 * size_ * norm(x))) return false;
  const Vec3 n = cross(x, corners_[2].w - corners_[0].w);
  double height = 0;
  for (const Vec3& way : {n, -n}) {
    const Corner here = farthest_along(way);
    const double above = dot(here.w - corners_[0].w, way);
    if (above > height) height = above, corners_[3] = here;
  }
  if (!(height > 1e-12 * size_ * norm(n))) return false;
  corner_count_ = 4;
  if (dot(corners_[3].w - corners_[0].w, n) > 0) std::swap(corners_[1], corners_[2]);
  add_face(0, 1, 2);
  add_face(0, 3, 1);
  add_face(1, 3, 2);
  add_face(2, 3, 0);
  faces_[0].beside = {1, 2, 3};
  faces_[1].beside = {3, 2, 0};
  faces_[2].beside = {1, 3, 0};
  faces_[3].beside = {2, 1, 0};
  return true;
}

// The face whose plane is nearest to the origin, or the one that the origin is farthest outside of.
int Polytope::lowest_face() const {
  int best = -1;
  for (int i = 0; i < face_count_; ++i)
    if (face(i).alive && (best < 0 || face(i).plane < face(best).plane)) best = i;
  return best;
}

// Takes away the faces that the new corner sees, starting at one of them, and closes the rim with new faces. Faces
// level with the corner go too, so that no new face is without area. False if the rim is not one loop.
bool Polytope::grow(int start, const Corner& added) {
  std::array<int, most_faces> seen;
  int seen_count = 0;
  const auto see = [&](int i) {
    at(i).seen = true;
    at(i).alive = false;
    seen[static_cast<std::size_t>(seen_count++)] = i;
  };
  see(start);
  for (int next = 0; next < seen_count; ++next) {
    for (const int beside : face(seen[static_cast<std::size_t>(next)]).beside)
      if (!face(beside).seen && sees(face(beside), added.w)) see(beside);
  }
  int rim_count = 0;
  std::array<Rim, most_faces> rim;
  for (int s = 0; s < seen_count; ++s) {
    const int i = seen[static_cast<std::size_t>(s)];
    for (std::size_t e = 0; e < 3; ++e) {
      const int outside = face(i).beside[e];
      if (!face(outside).alive) continue;
      std::size_t edge = 0;
      while (edge < 2 && face(outside).corner[edge] != face(i).corner[(e + 1) % 3]) ++edge;
      rim[static_cast<std::size_t>(rim_count++)] = {face(i).corner[e], face(i).corner[(e + 1) % 3], outside, edge, -1};
    }
  }
  for (int s = 0; s < seen_count; ++s) {
    at(seen[static_cast<std::size_t>(s)]).seen = false;
    free_[static_cast<std::size_t>(free_count_++)] = seen[static_cast<std::size_t>(s)];
  }
  return close_rim(std::span(rim.data(), static_cast<std::size_t>(rim_count)), added);
}

bool Polytope::close_rim(std::span<Rim> rim, const Corner& added) {
  if (rim.size() < 3 || rim.size() > static_cast<std::size_t>(free_count_ + most_faces - face_count_)) return false;
  const int apex = corner_count_;
  corners_[static_cast<std::size_t>(corner_count_++)] = added;
  for (Rim& edge : rim) {
    edge.made = add_face(edge.from, edge.to, apex);
    at(edge.made).beside = {edge.outside, -1, -1};
    at(edge.outside).beside[edge.outside_edge] = edge.made;
  }
  for (const Rim& edge : rim) {
    int followers = 0;
    for (const Rim& next : rim) {
      if (next.from != edge.to) continue;
      at(edge.made).beside[1] = next.made;
      at(next.made).beside[2] = edge.made;
      ++followers;
    }
    if (followers != 1) return false;
  }
  return true;
}

}  // namespace

Proven penetration(const Core& a, const Core& b, const Pose& X_AB) {
  Proven best{{std::numeric_limits<double>::infinity(), {0, 0, 0}, {0, 0, 0}}, std::numeric_limits<double>::infinity()};
  Polytope polytope(a, b, X_AB);
  if (!polytope.begin()) return best;
  double depth = std::numeric_limits<double>::infinity();
  while (!polytope.full()) {
    const int lowest = polytope.lowest_face();
    const Face face = polytope.face(lowest);
    const Corner next = polytope.farthest_along(face.normal);
    const double reach = dot(next.w, face.normal);
    if (reach < 0) return {{-reach, next.a, next.b}, std::numeric_limits<double>::infinity()};  // apart
    if (reach < depth) {
      depth = reach;
      // The origin's foot on the face, shared out among its corners, gives a point of each core.
      const Corner &p = polytope.corner(face.corner[0]), &q = polytope.corner(face.corner[1]), &r = polytope.corner(face.corner[2]);
      const Vec3 w = nearest_on_triangle(p.w, q.w, r.w);
      const Vec3 on_a = weighted(w, p.a, q.a, r.a);
      best.separation = {-depth, on_a, on_a - depth * face.normal};
    }
    best.gap = depth - face.plane;
    if (best.gap <= 1e-10 * polytope.size() || reach - face.plane <= 1e-10 * polytope.size()) break;
    if (!polytope.grow(lowest, next)) break;
  }
  return best;
}

}  // namespace armwright
