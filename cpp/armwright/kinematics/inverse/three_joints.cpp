#include "armwright/kinematics/inverse/three_joints.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/kinematics/inverse/circle_roots.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"

namespace armwright {

namespace {

constexpr double least_length = 1e-6;  // m: below this a link cannot be told from none
constexpr double least_sine = 1e-6;

std::optional<ThreeJointsKind> kind_of(const ThreeJoints& arm) {
  if (std::fabs(arm.s3) < parallel_tolerance) {
    if (std::fabs(arm.s2) < least_sine || arm.a2 < least_length || arm.r < least_length) return std::nullopt;
    return ThreeJointsKind::elbow;
  }
  if (arm.r < least_length) return std::nullopt;
  if (std::fabs(arm.s2) < parallel_tolerance) {
    if (arm.a1 < least_length) return std::nullopt;
    return ThreeJointsKind::shoulder_parallel;
  }
  if (arm.a1 < meeting_tolerance) {
    if (std::hypot(arm.a2, arm.d2 * arm.s3) < least_length) return std::nullopt;
    return ThreeJointsKind::shoulder_meets;
  }
  return ThreeJointsKind::general;
}

// The two turns with A cos t + B sin t = C; where C is out of reach, the nearest, once.
struct TwoTurns {
  int count;
  std::array<Turn<double>, 2> turn;
};
TwoTurns turns_with(double A, double B, double C) {
  const double r = std::hypot(A, B);
  const double gap = (r - C) * (r + C);
  if (!(gap > 0)) {
    const double sign = C < 0 ? -1 / r : 1 / r;
    return {1, {Turn<double>{sign * A, sign * B}, {}}};
  }
  const double w = std::sqrt(gap), scale = 1 / (r * r);
  return {2, {Turn<double>{scale * (A * C - B * w), scale * (B * C + A * w)},
              Turn<double>{scale * (A * C + B * w), scale * (B * C - A * w)}}};
}

struct Reach {
  double x, y, z;  // f
};
Reach f_of(const ThreeJoints& arm, double c, double s) {
  return {arm.a2 + arm.r * c, arm.c3 * arm.r * s - arm.s3 * arm.e, arm.s3 * arm.r * s + arm.c3 * arm.e + arm.d2};
}

void add(Reaches& out, double c, double s, double ux, double uy) {
  if (out.count == 4) return;
  const auto k = static_cast<std::size_t>(out.count++);
  out.c3[k] = c;
  out.s3[k] = s;
  out.ux[k] = ux;
  out.uy[k] = uy;
}

// |f|² = q0 + qc cos t3 + qs sin t3.
struct Affine {
  double k, c, s;
};
Affine square_of_f(const ThreeJoints& arm) {
  return {arm.a2 * arm.a2 + arm.r * arm.r + arm.e * arm.e + arm.d2 * arm.d2 + 2 * arm.d2 * arm.c3 * arm.e,
          2 * arm.a2 * arm.r, 2 * arm.d2 * arm.s3 * arm.r};
}

Reaches where_shoulder_meets(const ThreeJoints& arm, const Vec3& p) {
  Reaches out;
  const Affine square = square_of_f(arm);
  const TwoTurns thirds = turns_with(square.c, square.s, dot(p, p) - square.k);
  for (std::size_t k = 0; k < static_cast<std::size_t>(thirds.count); ++k) {
    const auto [c, s] = thirds.turn[k];
    const Reach f = f_of(arm, c, s);
    const double uy = (p.z - arm.c2 * f.z) / arm.s2;
    const double ux = std::sqrt(std::max(0.0, f.x * f.x + f.y * f.y - uy * uy));
    add(out, c, s, ux, uy);
    add(out, c, s, -ux, uy);
  }
  return out;
}

Reaches where_shoulder_parallel(const ThreeJoints& arm, const Vec3& p) {
  Reaches out;
  const double height = arm.c2 * p.z - arm.c3 * arm.e - arm.d2;  // = s3 r sin t3
  const TwoTurns thirds = turns_with(0, arm.s3 * arm.r, height);
  for (std::size_t k = 0; k < static_cast<std::size_t>(thirds.count); ++k) {
    const auto [c, s] = thirds.turn[k];
    const Reach f = f_of(arm, c, s);
    const double square = f.x * f.x + f.y * f.y;
    const double radius2 = p.x * p.x + p.y * p.y;
    const double ux = (radius2 - arm.a1 * arm.a1 - square) / (2 * arm.a1);
    const double uy = std::sqrt(std::max(0.0, square - ux * ux));
    add(out, c, s, ux, uy);
    add(out, c, s, ux, -uy);
  }
  return out;
}

// Pieper's elimination: |g|² and g_z give u_x and u_y as affine functions of (cos t3, sin t3); their squares add up
// to f_x² + f_y². Multiplied out by (2 a1 s2)², so that small a1 or s2 divide nothing.
Reaches where_general(const ThreeJoints& arm, const Vec3& p) {
  Reaches out;
  const Affine square = square_of_f(arm);
  const double C = dot(p, p) - arm.a1 * arm.a1;
  const Affine X{arm.s2 * (C - square.k), -arm.s2 * square.c, -arm.s2 * square.s};
  const double fz0 = arm.c3 * arm.e + arm.d2, fzs = arm.s3 * arm.r;
  const double two_a = 2 * arm.a1;
  const Affine Y{two_a * (p.z - arm.c2 * fz0), 0, -two_a * arm.c2 * fzs};
  const double both = two_a * arm.s2 * two_a * arm.s2;
  // X² + Y² - both (|f|² - f_z²), with sin² = 1 - cos².
  CirclePolynomial f{};
  f.k = X.k * X.k + X.s * X.s + Y.k * Y.k + Y.s * Y.s - both * (square.k - fz0 * fz0 - fzs * fzs);
  f.c = 2 * (X.k * X.c + Y.k * Y.c) - both * square.c;
  f.s = 2 * (X.k * X.s + Y.k * Y.s) - both * (square.s - 2 * fz0 * fzs);
  f.cc = X.c * X.c - X.s * X.s + Y.c * Y.c - Y.s * Y.s - both * fzs * fzs;
  f.cs = 2 * (X.c * X.s + Y.c * Y.s);
  const CircleRoots roots = roots_on_circle(f);
  for (int k = 0; k < roots.count; ++k) {
    const double t = roots.angle[static_cast<std::size_t>(k)], c = std::cos(t), s = std::sin(t);
    add(out, c, s, (X.k + X.c * c + X.s * s) / (two_a * arm.s2), (Y.k + Y.c * c + Y.s * s) / (two_a * arm.s2));
  }
  return out;
}

}  // namespace

std::optional<ThreeJoints> three_joints(const AxisLine& first, const AxisLine& second, const AxisLine& given_third,
                                        const Vec3& point) {
  ThreeJoints arm;
  arm.sign = {1, 1, 1};
  AxisLine third = given_third;
  // Opposite axes are told as equal ones that turn the other way.
  if (parallel(second, third) && dot(second.direction, third.direction) < 0) {
    third.direction = -third.direction;
    arm.sign[2] = -1;
  }
  const CommonNormal n12 = common_normal(first, second), n23 = common_normal(second, third);
  const Vec3 z1 = first.direction, z2 = second.direction, z3 = third.direction;
  const Vec3 foot = foot_on(third, point), out = point - foot;
  arm.r = norm(out);
  if (arm.r < least_length) return std::nullopt;
  const Vec3 x1 = n12.direction, x2 = n23.direction, x3 = (1 / arm.r) * out;
  arm.base = {{x1, cross(z1, x1), z1}, n12.foot_a};
  arm.a1 = n12.distance;
  arm.c2 = dot(z1, z2);
  arm.s2 = dot(x1, cross(z1, z2));
  arm.a2 = n23.distance;
  arm.d2 = dot(n23.foot_a - n12.foot_b, z2);
  arm.c3 = dot(z2, z3);
  arm.s3 = dot(x2, cross(z2, z3));
  arm.e = dot(foot - n23.foot_b, z3);
  if (std::fabs(arm.s3) < parallel_tolerance) {
    arm.c3 = 1;
    arm.s3 = 0;
    arm.d2 += arm.e;
    arm.e = 0;
  }
  if (std::fabs(arm.s2) < parallel_tolerance) {
    arm.s2 = 0;
    arm.c2 = arm.c2 < 0 ? -1 : 1;
  }
  arm.shift = {0, angle_about(z2, x1, x2), angle_about(z3, x2, x3)};
  arm.third = {x3, cross(z3, x3), z3};
  const auto kind = kind_of(arm);
  if (!kind) return std::nullopt;
  arm.kind = *kind;
  return arm;
}

Reaches reaches_of(const ThreeJoints& arm, const Vec3& point) {
  switch (arm.kind) {
    case ThreeJointsKind::shoulder_meets: return where_shoulder_meets(arm, point);
    case ThreeJointsKind::shoulder_parallel: return where_shoulder_parallel(arm, point);
    default: return where_general(arm, point);
  }
}

}  // namespace armwright
