#include "armwright/kinematics/inverse/spherical.hpp"

#include <cmath>

#include "armwright/kinematics/inverse/tolerances.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

struct LaneReaches {
  Lanes c3, s3, ux, uy;
  std::size_t count;
  Lanes apart;  // small where two of them are nearly one
};

// Axes 2 and 3 parallel. What lies along axis 2 tells g_y; its length then g_x but for the sign (the side of axis 1);
// the two links make a triangle in the plane. Lanes: both sides, both elbows.
ARMWRIGHT_INLINE LaneReaches elbow_reaches(const ThreeJoints& arm, const Vec3& p) {
  const Lanes side(Lanes::Vector{1, 1, -1, -1}), elbow(Lanes::Vector{1, -1, 1, -1});
  const double uy = (p.z - arm.c2 * arm.d2) / arm.s2;
  const double gy = arm.c2 * uy - arm.s2 * arm.d2;
  const double square = p.x * p.x + p.y * p.y;
  const double radius = square_root(square);
  double gx = square_root(maximum(0.0, (radius - gy) * (radius + gy)));
  if (gx < in_line_sine * radius) gx = 0;
  LaneReaches r;
  r.count = 4;
  r.ux = side * Lanes(gx) - Lanes(arm.a1);
  r.uy = Lanes(uy);
  const Turn<Lanes> t3 = elbow_turn(arm.a2, arm.r, r.ux * r.ux + r.uy * r.uy);
  r.c3 = t3.c;
  r.s3 = elbow * t3.s;
  r.apart = minimum(absolute(r.s3), Lanes(radius < free_radius ? 0.0 : gx / radius));
  return r;
}

ARMWRIGHT_INLINE LaneReaches lanes_of(const Reaches& few) {
  LaneReaches r;
  r.count = static_cast<std::size_t>(few.count);
  for (std::size_t k = 0; k < 4; ++k) {
    const std::size_t j = k < r.count ? k : 0;
    r.c3.set(k, few.c3[j]);
    r.s3.set(k, few.s3[j]);
    r.ux.set(k, few.ux[j]);
    r.uy.set(k, few.uy[j]);
  }
  r.apart = Lanes(0.0);
  return r;
}

// The rotation that is left for the wrist: everything before joint 4 taken back from the target's.
ARMWRIGHT_INLINE Rotation3<Lanes> left_for_wrist(const SphericalSetup& setup, const ThreeTurns<Lanes>& t,
                                                 const Rotation& R) {
  const ThreeJoints& arm = setup.arm;
  const auto back = [&](const Vec3& column) {
    Vector3<Lanes> v = spin_back(t.t1, spread<Lanes>(column));
    v = spin_back(t.t2, tilt(arm.c2, -arm.s2, v));
    v = spin_back(t.t3, tilt(arm.c3, -arm.s3, v));
    return transpose_times(spread<Lanes>(setup.forearm), v);
  };
  return {back(R.x), back(R.y), back(R.z)};
}

ARMWRIGHT_INLINE void write(const SphericalSetup& setup, const ThreeTurns<Lanes>& t, const EulerTurns<Lanes>& w,
                            std::size_t count, Branches::Pack& pack) {
  const Lanes angles[6] = {arc_tangent(t.t1), arc_tangent(t.t2), arc_tangent(t.t3),
                           arc_tangent(w.a),  arc_tangent(w.b),  arc_tangent(w.c)};
  for (std::size_t i = 0; i < 6; ++i) store(joint_value(setup.joints, i, angles[i]), pack.q[i]);
  store(t.miss + w.miss, pack.miss);
  pack.refined = false;
  for (std::size_t k = 0; k < 4; ++k) {
    pack.free_joint[k] = -1;
    if (k >= count) pack.miss[k] = HUGE_VAL;
  }
  const Lanes near(free_radius * free_radius);
  if (any((t.radius1 < near) | (t.radius2 < near) | (w.straight < Lanes(straight_sine)))) {
    for (std::size_t k = 0; k < 4; ++k) {
      if (w.straight[k] < straight_sine) pack.free_joint[k] = 3;
      if (t.radius2[k] < near[k]) pack.free_joint[k] = 1;
      if (t.radius1[k] < near[k]) pack.free_joint[k] = 0;
    }
  }
}

// The other answer of a wrist with right angles: middle turn reversed, outer ones half round.
ARMWRIGHT_INLINE EulerTurns<Lanes> flipped(const EulerTurns<Lanes>& w) {
  EulerTurns<Lanes> r = w;
  const auto in_line = w.straight < Lanes(straight_sine);
  r.b.s = -w.b.s;
  r.a = {select(in_line, w.a.c, -w.a.c), select(in_line, w.a.s, -w.a.s)};
  r.c = {select(in_line, w.c.c, -w.c.c), select(in_line, w.c.s, -w.c.s)};
  return r;
}

ARMWRIGHT_BATCH void branches_of(const SphericalSetup& setup, const Pose& X, const Reaches* few,
                                 const std::array<Turn<double>, 6>& set, Branches& out) {
  const ThreeJoints& arm = setup.arm;
  const LaneReaches reaches = few ? lanes_of(*few) : elbow_reaches(arm, X.position);
  ThreeTurns<Lanes> t =
      complete(arm, X.position, reaches.c3, reaches.s3, reaches.ux, reaches.uy, set[0], set[1]);
  if (few) {
    refine(arm, X.position, t);
    refine(arm, X.position, t);
  }
  const Rotation3<Lanes> M = left_for_wrist(setup, t, X.rotation);
  const EulerTurns<Lanes> front = euler_turns(setup.wrist, M, 1, FreeTurn::first, set[3]);
  write(setup, t, front, reaches.count, out.pack[0]);
  const EulerTurns<Lanes> back =
      setup.wrist.square ? flipped(front) : euler_turns(setup.wrist, M, -1, FreeTurn::first, set[3]);
  write(setup, t, back, reaches.count, out.pack[1]);
  out.count = 2;
  const Lanes apart = minimum(reaches.apart, absolute(front.b.s));
  const auto possible = t.miss + minimum(front.miss, back.miss) < Lanes(out.worth_polishing);
  const Lanes axis(setup.near_axis * setup.near_axis);
  out.may_coincide =
      any(possible & ((apart < Lanes(setup.near_double)) | (t.radius1 < axis) | (t.radius2 < axis)));
  const Lanes near(free_radius * free_radius);
  out.arm_free = any((t.miss < Lanes(4.0) * near) & ((t.radius1 < near) | (t.radius2 < near)));
}

}  // namespace

std::optional<SphericalSetup> spherical_setup(const SixChain& chain) {
  const std::array<double, 6> zero{};
  const ChainPosture posture = chain_posture(chain, zero.data());
  const auto& axis = posture.axis;
  Vec3 centre;
  if (!meet(axis[3], axis[4], axis[5], centre)) return std::nullopt;
  const auto arm = three_joints(axis[0], axis[1], axis[2], centre);
  if (!arm) return std::nullopt;
  SphericalSetup setup;
  setup.arm = *arm;
  const Vec3 z4 = axis[3].direction, z5 = axis[4].direction, z6 = axis[5].direction;
  const Vec3 across45 = cross(z4, z5), across56 = cross(z5, z6);
  const Vec3 x4 = (1 / norm(across45)) * across45, x5 = (1 / norm(across56)) * across56;
  setup.wrist = EulerAxes::make(angle_about(x4, z4, z5), angle_about(x5, z5, z6));
  const Rotation fourth{x4, cross(z4, x4), z4}, last{x5, cross(z6, x5), z6};
  setup.forearm = transpose(arm->third) * fourth;
  setup.before = inverse(arm->base);
  setup.after = inverse(posture.end) * Pose{last, centre};
  setup.joints.sign = {arm->sign[0], arm->sign[1], arm->sign[2], 1, 1, 1};
  setup.joints.shift = {arm->shift[0], arm->shift[1], arm->shift[2], 0, angle_about(z5, x4, x5), 0};
  setup.joints.at_zero = turns_of_value(setup.joints, 0);
  return setup;
}

Pose spherical_end(const SphericalSetup& setup, const double* q) {
  const ThreeJoints& arm = setup.arm;
  std::array<Pose, 6> turn;
  for (std::size_t i = 0; i < 6; ++i) {
    turn[i] = {turn_about({0, 0, 1}, setup.joints.sign[i] * q[i] + setup.joints.shift[i]), {0, 0, 0}};
  }
  const auto tilted = [](double c, double s, const Vec3& p) {
    return Pose{{{1, 0, 0}, {0, c, s}, {0, -s, c}}, p};
  };
  const EulerAxes& w = setup.wrist;
  Pose X = turn[0] * tilted(arm.c2, arm.s2, {arm.a1, 0, 0}) * turn[1] * tilted(arm.c3, arm.s3, {arm.a2, 0, arm.d2}) *
           turn[2] * Pose{setup.forearm, {arm.r, 0, arm.e}} * turn[3];
  X = X * tilted(w.c1, w.s1, {0, 0, 0}) * turn[4] * tilted(w.c2, w.s2, {0, 0, 0}) * turn[5];
  return inverse(setup.before) * X * inverse(setup.after);
}

void solve_spherical(const SphericalSetup& setup, const Pose& target, double free_value, Branches& out) {
  const Pose X = setup.before * target * setup.after;
  out.worth_polishing = setup.worth_polishing * setup.worth_polishing;
  out.arm_free = false;
  std::array<Turn<double>, 6> set = setup.joints.at_zero;
  if (free_value != 0) set = turns_of_value(setup.joints, free_value);
  if (setup.arm.kind == ThreeJointsKind::elbow) {
    branches_of(setup, X, nullptr, set, out);
    return;
  }
  const Reaches few = reaches_of(setup.arm, X.position);
  out.count = 0;
  if (few.count > 0) branches_of(setup, X, &few, set, out);
}

}  // namespace armwright
