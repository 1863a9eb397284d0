#include "armwright/clearance/convex.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/clearance/triangles.hpp"

namespace armwright {

namespace {

constexpr double proof = 1e-10;  // m, what a proof may leave open before another round is made
constexpr int most_rounds = 200;

// A simplex within the set of differences, with the weights of its point nearest to the origin.
struct Simplex {
  Corner corner[4];
  double weight[4]{};
  int count = 0;

  Vec3 point() const {
    Vec3 p{0, 0, 0};
    for (int i = 0; i < count; ++i) p = p + weight[i] * corner[i].w;
    return p;
  }
  void drop_unused() {
    int kept = 0;
    for (int i = 0; i < count; ++i) {
      if (!(weight[i] > 0)) continue;
      corner[kept] = corner[i];
      weight[kept++] = weight[i];
    }
    count = kept;
  }
};

void weigh_triangle(Simplex& s, int i, int j, int k) {
  const Vec3 w = nearest_on_triangle(s.corner[i].w, s.corner[j].w, s.corner[k].w);
  std::fill(s.weight, s.weight + 4, 0.0);
  s.weight[i] = w.x;
  s.weight[j] = w.y;
  s.weight[k] = w.z;
}

// The origin seen from within a tetrahedron: the four volumes have the sign of the whole.
bool encloses(Simplex& s) {
  const Vec3 &a = s.corner[0].w, &b = s.corner[1].w, &c = s.corner[2].w, &d = s.corner[3].w;
  const double whole = dot(cross(b - a, c - a), d - a);
  const double part[4] = {dot(cross(c, b), d), dot(cross(a, c), d), dot(cross(b, a), d), dot(cross(a, b), c)};
  const double sum = part[0] + part[1] + part[2] + part[3];
  if (whole == 0 || sum == 0) return false;
  for (const double p : part)
    if (!(p / sum > 0)) return false;
  for (int i = 0; i < 4; ++i) s.weight[i] = part[i] / sum;
  return true;
}

void weigh(Simplex& s) {
  std::fill(s.weight, s.weight + 4, 0.0);
  if (s.count == 1) {
    s.weight[0] = 1;
  } else if (s.count == 2) {
    const Vec3 w = nearest_on_edge(s.corner[0].w, s.corner[1].w);
    s.weight[0] = w.x;
    s.weight[1] = w.y;
  } else if (s.count == 3) {
    weigh_triangle(s, 0, 1, 2);
  } else if (!encloses(s)) {
    static constexpr int faces[4][3] = {{0, 1, 2}, {0, 1, 3}, {0, 2, 3}, {1, 2, 3}};
    double least = 0, best[4]{};
    for (int f = 0; f < 4; ++f) {
      weigh_triangle(s, faces[f][0], faces[f][1], faces[f][2]);
      const Vec3 p = s.point();
      if (f == 0 || dot(p, p) < least) least = dot(p, p), std::copy(s.weight, s.weight + 4, best);
    }
    std::copy(best, best + 4, s.weight);
  }
}

Separation separation_of(const Simplex& s) {
  Separation out{norm(s.point()), {0, 0, 0}, {0, 0, 0}};
  for (int i = 0; i < s.count; ++i) {
    out.a = out.a + s.weight[i] * s.corner[i].a;
    out.b = out.b + s.weight[i] * s.corner[i].b;
  }
  return out;
}

}  // namespace

Proven nearest_points(const Core& a, const Core& b, const Pose& X_AB, const Vec3& way, double cutoff) {
  Simplex s;
  s.corner[0] = farthest(a, b, X_AB, way);
  s.count = 1;
  s.weight[0] = 1;
  Proven best{separation_of(s), std::numeric_limits<double>::infinity()};
  double floor = 0;  // the greatest lower bound seen
  for (int round = 0; round < most_rounds; ++round) {
    const Vec3 v = s.point();
    const double length = norm(v);
    if (length < 1e-14) return {separation_of(s), length};
    const Corner next = farthest(a, b, X_AB, -v);
    floor = std::max(floor, dot(next.w, v) / length);
    if (length < best.separation.distance || round == 0) best.separation = separation_of(s);
    best.gap = best.separation.distance - floor;
    if (best.gap <= 1e-13 * (1 + length) || floor > cutoff) break;
    bool again = false;
    for (int i = 0; i < s.count; ++i) again = again || norm(s.corner[i].w - next.w) == 0;
    if (again) break;
    s.corner[s.count++] = next;
    weigh(s);
    s.drop_unused();
    if (s.count == 4) {  // the origin is enclosed
      best = {separation_of(s), 0};
      best.separation.distance = 0;
      return best;
    }
  }
  return best;
}

namespace {

// Bullet's answer, if it proves itself.
bool proven_by_bullet(const Core& a, const Core& b, const Pose& X_AB, Separation& out) {
  const BulletAnswer bullet = bullet_distance(a, b, X_AB);
  if (!bullet.found) return false;
  const Vec3 v = bullet.separation.a - bullet.separation.b;
  const double length = norm(v);
  if (!(length > proof)) return false;
  const double floor = dot(farthest(a, b, X_AB, -v).w, v) / length;
  if (!(std::fabs(length - floor) <= proof)) return false;
  out = {length, bullet.separation.a, bullet.separation.b};
  return true;
}

}  // namespace

Separation convex_gap(const Core& a, const Core& b, const Pose& X_AB, const Vec3& way, double cutoff) {
  const Proven found = nearest_points(a, b, X_AB, way, cutoff);
  const bool sure = found.gap <= proof || found.separation.distance - found.gap > cutoff;
  Separation out = found.separation;
  if (!sure && proven_by_bullet(a, b, X_AB, out)) return out;
  if (out.distance <= proof) out.distance = 0;
  return out;
}

Separation convex_separation(const Core& a, const Core& b, const Pose& X_AB) {
  Separation out;
  if (proven_by_bullet(a, b, X_AB, out)) return out;
  const Proven apart = nearest_points(a, b, X_AB);
  if (apart.separation.distance > proof && apart.gap <= 0.5 * apart.separation.distance) return apart.separation;
  const Proven inside = penetration(a, b, X_AB);
  if (inside.separation.distance <= 0) return inside.separation;
  return {norm(apart.separation.a - apart.separation.b), apart.separation.a, apart.separation.b};
}

}  // namespace armwright
