#pragma once

#include <array>
#include <cstddef>

#include "armwright/spatial/pose.hpp"

namespace armwright {

/// What Raghavan and Roth's equations are made of: of a line through point p with direction l the fourteen numbers
///   l, p, m = p x l, n = (p.p) l - 2 (p.l) p, p.p, p.l
/// (and `one`, which carries the constant part). They are closed under a change of frame: the fourteen numbers in the
/// new frame are linear in those in the old frame. So sums of them, weighted with sines and cosines, may be moved too.
struct LineFeatures {
  Vec3 l{0, 0, 0}, p{0, 0, 0}, m{0, 0, 0}, n{0, 0, 0};
  double pp = 0, pl = 0, one = 0;
};

/// The z axis of a frame, seen in that frame.
inline LineFeatures own_axis() {
  LineFeatures f;
  f.l = {0, 0, 1};
  f.one = 1;
  return f;
}

/// Told in frame B, to be told in frame A.
inline LineFeatures operator*(const Pose& X_AB, const LineFeatures& f) {
  const auto& [R, t] = X_AB;
  LineFeatures g;
  const Vec3 Rp = R * f.p, Rm = R * f.m;
  const double tt = dot(t, t);
  g.l = R * f.l;
  const double tl = dot(t, g.l);
  g.p = Rp + f.one * t;
  g.m = Rm + cross(t, g.l);
  g.n = R * f.n - 2.0 * cross(t, Rm) + tt * g.l - (2 * (f.pl + tl)) * t;
  g.pp = f.pp + 2 * dot(t, Rp) + f.one * tt;
  g.pl = f.pl + tl;
  g.one = f.one;
  return g;
}

/// Rz(angle) f = part[0] + cos(angle) part[1] + sin(angle) part[2].
inline std::array<LineFeatures, 3> turned_parts(const LineFeatures& f) {
  std::array<LineFeatures, 3> part;
  part[0].l.z = f.l.z;
  part[0].p.z = f.p.z;
  part[0].m.z = f.m.z;
  part[0].n.z = f.n.z;
  part[0].pp = f.pp;
  part[0].pl = f.pl;
  part[0].one = f.one;
  part[1].l = {f.l.x, f.l.y, 0};
  part[1].p = {f.p.x, f.p.y, 0};
  part[1].m = {f.m.x, f.m.y, 0};
  part[1].n = {f.n.x, f.n.y, 0};
  part[2].l = {-f.l.y, f.l.x, 0};
  part[2].p = {-f.p.y, f.p.x, 0};
  part[2].m = {-f.m.y, f.m.x, 0};
  part[2].n = {-f.n.y, f.n.x, 0};
  return part;
}

/// Tz(v) f = part[0] + v part[1] + v² part[2].
inline std::array<LineFeatures, 3> slid_parts(const LineFeatures& f) {
  std::array<LineFeatures, 3> part;
  part[0] = f;
  part[1].p.z = f.one;
  part[1].m = {-f.l.y, f.l.x, 0};
  part[1].n = {2 * f.m.y, -2 * f.m.x, -2 * f.pl};
  part[1].pp = 2 * f.p.z;
  part[1].pl = f.l.z;
  part[2].n = {f.l.x, f.l.y, -f.l.z};
  part[2].pp = f.one;
  return part;
}

/// As rows: six that a turn about z leaves alone (l.z, p.z, m.z, n.z, pp, pl), then the x and the y of l, p, m, n.
inline std::array<double, 14> as_rows(const LineFeatures& f) {
  return {f.l.z, f.p.z, f.m.z, f.n.z, f.pp, f.pl, f.l.x, f.p.x, f.m.x, f.n.x, f.l.y, f.p.y, f.m.y, f.n.y};
}

/// The features of a line given by a point and a direction.
inline LineFeatures features_of(const Vec3& point, const Vec3& direction) {
  LineFeatures f;
  f.l = direction;
  f.p = point;
  f.m = cross(point, direction);
  f.pp = dot(point, point);
  f.pl = dot(point, direction);
  f.n = f.pp * direction - (2 * f.pl) * point;
  f.one = 1;
  return f;
}

}  // namespace armwright
