#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>

#include "armwright/clearance/convex.hpp"

namespace armwright {

/// A triangle of a polytope.
struct Face {
  std::array<int, 3> corner;   // counter-clockwise seen from outside
  std::array<int, 3> beside;   // the face across the edge from corner i to corner i + 1
  Vec3 normal;
  double plane;                // normal · x on the face
  bool alive, seen;
  bool done;                   // for the caller: nothing lies above it
};

/// An edge of the hole that the seen faces leave: between two corners, with the face that stays outside of it.
struct Rim {
  int from, to, outside;
  std::size_t outside_edge;
  int made;  // the new face upon it
};

/// Where a polytope is kept; the storage is the caller's. For n corners, 2 n places for faces and what goes with them.
struct PolytopeStorage {
  std::span<Corner> corners;
  std::span<Face> faces;
  std::span<int> free, seen;
  std::span<Rim> rim;
};

/// A closed polytope of corners of some convex set, every face a triangle, grown corner by corner.
class Polytope {
 public:
  explicit Polytope(const PolytopeStorage& storage) : corners_(storage.corners), faces_(storage.faces), free_(storage.free), seen_(storage.seen), rim_(storage.rim) {}

  /// A first tetrahedron; farthest(way) gives the set's corner farthest along a direction. False if the set is flat.
  template <class Farthest>
  bool begin(const Farthest& farthest);
  /// Takes away the faces that the new corner sees, starting at one of them, and closes the rim with new faces. Faces
  /// level with the corner go too, so that no new face is without area. False if the rim is not one loop.
  bool grow(int start, const Corner& added);
  /// The face whose plane is nearest to the origin, or the one that the origin is farthest outside of.
  int lowest_face() const;
  const Face& face(int i) const { return faces_[static_cast<std::size_t>(i)]; }
  void finish(int i) { at(i).done = true; }
  int face_count() const { return face_count_; }  ///< places used, those of faces taken away included
  const Corner& corner(int i) const { return corners_[static_cast<std::size_t>(i)]; }
  double size() const { return size_; }
  double flat() const { return 1e-11 * size_; }   ///< faces that a point overtops by less are taken as level with it
  bool full() const { return corner_count_ == static_cast<int>(corners_.size()); }

 private:
  Face& at(int i) { return faces_[static_cast<std::size_t>(i)]; }
  int add_face(int i, int j, int k);
  void add_first_faces();
  bool close_rim(std::span<Rim> rim, const Corner& added);
  bool sees(const Face& face, const Vec3& p) const { return dot(face.normal, p) - face.plane > -flat(); }

  std::span<Corner> corners_;
  std::span<Face> faces_;
  std::span<int> free_, seen_;  // places of faces taken away; those seen by a new corner
  std::span<Rim> rim_;
  int corner_count_ = 0, face_count_ = 0, free_count_ = 0;
  double size_ = 0;
};

// Four corners far apart: two along x, the third off their line, the fourth off their plane.
template <class Farthest>
bool Polytope::begin(const Farthest& farthest) {
  corners_[0] = farthest({1, 0, 0});
  corners_[1] = farthest({-1, 0, 0});
  for (const Vec3 way : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}})
    size_ = std::max(size_, dot(farthest(way).w - farthest(-way).w, way));
  if (!(size_ > 0)) return false;
  const Vec3 x = corners_[1].w - corners_[0].w;
  if (!(norm(x) > 1e-12 * size_)) return false;
  const Vec3 helper = std::fabs(x.y) < std::fabs(x.z) ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
  const Vec3 y = cross(x, helper), z = cross(x, y);
  double off = 0;
  for (const Vec3& way : {y, -y, z, -z}) {
    const Corner here = farthest(way);
    const double square = norm(cross(here.w - corners_[0].w, x));
    if (square > off) off = square, corners_[2] = here;
  }
  if (!(off > 1e-12 * size_ * norm(x))) return false;
  const Vec3 n = cross(x, corners_[2].w - corners_[0].w);
  double height = 0;
  for (const Vec3& way : {n, -n}) {
    const Corner here = farthest(way);
    const double above = dot(here.w - corners_[0].w, way);
    if (above > height) height = above, corners_[3] = here;
  }
  if (!(height > 1e-12 * size_ * norm(n))) return false;
  corner_count_ = 4;
  if (dot(corners_[3].w - corners_[0].w, n) > 0) std::swap(corners_[1], corners_[2]);
  add_first_faces();
  return true;
}

}  // namespace armwright
