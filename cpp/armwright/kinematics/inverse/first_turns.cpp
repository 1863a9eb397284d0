#include "armwright/kinematics/inverse/first_turns.hpp"

#include <cmath>

#include "armwright/kinematics/inverse/arc_tangent.hpp"
#include "armwright/support/sin_cos.hpp"

namespace armwright {

namespace {

// What lies along axis 2 gives sin t5, the angle between axes 2 and 6 gives cos t5, both as affine
// functions of (cos t1, sin t1).
struct Affine {
  double k, c, s;
  double at(double cosine, double sine) const { return k + c * cosine + s * sine; }
};
struct FifthTurn {
  Affine Y, X;               // scale_s sin t5 = Y, scale_c cos t5 = X
  double scale_s, scale_c;
};
FifthTurn fifth_turn(const ThreeParallelSetup& s, const Vec3& p, const Vec3& m) {
  const EulerAxes& w = s.wrist;
  return {{s.c2 * p.z - s.d - w.c1 * s.d5, -s.s2 * p.y, s.s2 * p.x},
          {s.c2 * m.z - w.c1 * w.c2, -s.s2 * m.y, s.s2 * m.x},
          w.s1 * s.a5,
          -w.s1 * w.s2};
}

// Newton steps for both equations at once: better conditioned than their squares' sum.
double refined(const FifthTurn& f, double t1) {
  double cosine, sine;
  sin_cos(t1, sine, cosine);
  double t5 = arc_tangent(f.Y.at(cosine, sine) / f.scale_s, f.X.at(cosine, sine) / f.scale_c);
  const double start = t1;
  for (int step = 0; step < 4; ++step) {
    double c, s, c5, s5;
    sin_cos(t1, s, c);
    sin_cos(t5, s5, c5);
    const double y = f.Y.at(c, s) - f.scale_s * s5, x = f.X.at(c, s) - f.scale_c * c5;
    const double y1 = f.Y.s * c - f.Y.c * s, x1 = f.X.s * c - f.X.c * s, y5 = -f.scale_s * c5, x5 = f.scale_c * s5;
    const double det = y1 * x5 - y5 * x1;
    if (!(std::fabs(det) > 1e-14)) break;
    const double d1 = (y5 * x - x5 * y) / det, d5 = (x1 * y - y1 * x) / det;
    if (!(std::fabs(d1) + std::fabs(d5) < 0.1)) break;
    t1 += d1;
    t5 += d5;
    if (std::fabs(d1) + std::fabs(d5) < 1e-13) break;
  }
  return std::fabs(t1 - start) < 1e-2 ? t1 : start;
}

// The squares of sin t5 and cos t5 add up to one.
CircleRoots roots_of(const FifthTurn& g) {
  const double u = g.scale_c * g.scale_c, v = g.scale_s * g.scale_s;
  const Affine& X = g.X;
  const Affine& Y = g.Y;
  CirclePolynomial f{};
  f.k = u * (Y.k * Y.k + Y.s * Y.s) + v * (X.k * X.k + X.s * X.s) - u * v;
  f.c = 2 * (u * Y.k * Y.c + v * X.k * X.c);
  f.s = 2 * (u * Y.k * Y.s + v * X.k * X.s);
  f.cc = u * (Y.c * Y.c - Y.s * Y.s) + v * (X.c * X.c - X.s * X.s);
  f.cs = 2 * (u * Y.c * Y.s + v * X.c * X.s);
  CircleRoots roots = roots_on_circle(f);
  for (int k = 0; k < roots.count; ++k) {
    double& t1 = roots.angle[static_cast<std::size_t>(k)];
    t1 = refined(g, t1);
  }
  return roots;
}

}  // namespace

CircleRoots first_turns_apart(const ThreeParallelSetup& setup, const Vec3& p, const Vec3& m) {
  return roots_of(fifth_turn(setup, p, m));
}

}  // namespace armwright
