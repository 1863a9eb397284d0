#include "armwright/clearance/polytope.hpp"

#include <algorithm>

namespace armwright {

int Polytope::add_face(int i, int j, int k) {
  const int place = free_count_ > 0 ? free_[static_cast<std::size_t>(--free_count_)] : face_count_++;
  Face& face = at(place);
  face.corner = {i, j, k};
  face.alive = true;
  face.done = false;
  face.seen = false;
  const Vec3 &p = corner(i).w, &q = corner(j).w, &r = corner(k).w;
  const Vec3 n = cross(q - p, r - p);
  const double length = norm(n);
  face.normal = length > 0 ? (1 / length) * n : Vec3{0, 0, 0};
  face.plane = std::max({dot(face.normal, p), dot(face.normal, q), dot(face.normal, r)});
  return place;
}

int Polytope::lowest_face() const {
  int best = -1;
  for (int i = 0; i < face_count_; ++i)
    if (face(i).alive && (best < 0 || face(i).plane < face(best).plane)) best = i;
  return best;
}

bool Polytope::grow(int start, const Corner& added) {
  const std::span<int> seen = seen_;
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
  const std::span<Rim> rim = rim_;
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
  return close_rim(rim.first(static_cast<std::size_t>(rim_count)), added);
}

bool Polytope::close_rim(std::span<Rim> rim, const Corner& added) {
  if (rim.size() < 3 || rim.size() > static_cast<std::size_t>(free_count_ - face_count_) + faces_.size()) return false;
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

void Polytope::add_first_faces() {
  add_face(0, 1, 2);
  add_face(0, 3, 1);
  add_face(1, 3, 2);
  add_face(2, 3, 0);
  faces_[0].beside = {1, 2, 3};
  faces_[1].beside = {3, 2, 0};
  faces_[2].beside = {1, 3, 0};
  faces_[3].beside = {2, 1, 0};
}

}  // namespace armwright
