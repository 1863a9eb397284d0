#include "armwright/kinematics/inverse/three_parallel.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/kinematics/inverse/axes.hpp"
#include "armwright/kinematics/inverse/first_turns.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"
#include "armwright/kinematics/inverse/three_joints.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

// Turns of joint 1, in lanes; the last two lanes repeat the first two where there are but two.
struct FirstTurns {
  Turn<Lanes> t1;
  std::size_t count;
  bool free, apart;
};

// Axes 5 and 6 meet: what lies along axis 2 is the same for every t5, and tells g_y; its length g_x but for the sign.
ARMWRIGHT_INLINE FirstTurns crossing_turns(const ThreeParallelSetup& s, const Vec3& p, const Turn<double>& set) {
  const double along = s.d + s.wrist.c1 * s.d5;
  const double gy = (s.c2 * p.z - along) / s.s2;
  const double radius = square_root(p.x * p.x + p.y * p.y);
  double gx = square_root(maximum(0.0, (radius - gy) * (radius + gy)));
  if (gx < in_line_sine * radius) gx = 0;
  FirstTurns r;
  r.count = 4;
  r.free = radius < free_radius;
  r.apart = radius > s.near_axis && !r.free && gx > s.near_double * radius;
  const Lanes side(Lanes::Vector{1, 1, -1, -1});
  r.t1 = turn_between(side * Lanes(gx), Lanes(gy), Lanes(p.x), Lanes(p.y));
  if (r.free) r.t1 = {Lanes(set.c), Lanes(set.s)};
  return r;
}

// The rotation seen from the frame before joint 2.
ARMWRIGHT_INLINE Rotation3<Lanes> after_first(const ThreeParallelSetup& s, const Turn<Lanes>& t1, const Rotation& R) {
  const auto back = [&](const Vec3& v) { return tilt(s.c2, -s.s2, spin_back(t1, spread<Lanes>(v))); };
  return {back(R.x), back(R.y), back(R.z)};
}

struct Planar {
  Lanes x, y;  // from axis 2 to axis 4, square to them
  Lanes miss;  // squared, along them
};
ARMWRIGHT_INLINE Planar fourth_axis(const ThreeParallelSetup& s, const Turn<Lanes>& t1, const EulerTurns<Lanes>& w,
                                    const Vec3& p) {
  Vector3<Lanes> g = spin_back(t1, spread<Lanes>(p));
  g.x = g.x - Lanes(s.a1);
  const Vector3<Lanes> u = tilt(s.c2, -s.s2, g);
  Vector3<Lanes> k = tilt(s.wrist.c1, s.wrist.s1, Vector3<Lanes>{Lanes(s.a5) * w.b.c, Lanes(s.a5) * w.b.s, Lanes(s.d5)});
  k.x = k.x + Lanes(s.a4);
  k = spin(w.a, k);
  const Lanes along = u.z - k.z - Lanes(s.d);
  return {u.x - k.x, u.y - k.y, along * along};
}

struct Elbow {
  Turn<Lanes> t2, t3;
  Lanes miss, square;
};
ARMWRIGHT_INLINE Elbow elbow_turns(const ThreeParallelSetup& s, const Planar& to, double side,
                                   const Turn<double>& set2) {
  Elbow e;
  e.square = to.x * to.x + to.y * to.y;
  e.t3 = elbow_turn(s.a2, s.a3, e.square);
  e.t3.s = Lanes(side) * e.t3.s;
  const Lanes fx = Lanes(s.a2) + Lanes(s.a3) * e.t3.c, fy = Lanes(s.a3) * e.t3.s;
  const auto free = fx * fx + fy * fy < Lanes(free_radius * free_radius);
  e.t2 = select_turn(free, Turn<Lanes>{Lanes(set2.c), Lanes(set2.s)}, turn_between(fx, fy, to.x, to.y));
  const Lanes dx = e.t2.c * fx - e.t2.s * fy - to.x, dy = e.t2.s * fx + e.t2.c * fy - to.y;
  e.miss = dx * dx + dy * dy;
  return e;
}

ARMWRIGHT_INLINE void write(const ThreeParallelSetup& s, const FirstTurns& first, const EulerTurns<Lanes>& w,
                            const Planar& to, const Elbow& e, Branches::Pack& pack) {
  const Lanes a2 = arc_tangent(e.t2), a3 = arc_tangent(e.t3), sum = arc_tangent(w.a);
  const Lanes angles[6] = {arc_tangent(first.t1), a2, a3, sum - a2 - a3, arc_tangent(w.b), arc_tangent(w.c)};
  for (std::size_t i = 0; i < 6; ++i) store(joint_value(s.joints, i, angles[i]), pack.q[i]);
  store(w.miss + to.miss + e.miss, pack.miss);
  pack.refined = false;
  for (std::size_t k = 0; k < 4; ++k) {
    pack.free_joint[k] = -1;
    if (k >= first.count) pack.miss[k] = HUGE_VAL;
    if (e.square[k] < free_radius * free_radius) pack.free_joint[k] = 1;
    if (w.straight[k] < straight_sine) pack.free_joint[k] = 5;
    if (first.free) pack.free_joint[k] = 0;
  }
}

// Axes 2, 3, 4 and 6 parallel, joint 6 free: the sum t2 + t3 + t4 nearest to the given one with which the links
// reach. The square of the way from axis 2 to axis 4 is |u|² + |k|² - 2 |u| |k| cos(sum - between).
Turn<double> reaching_sum(const ThreeParallelSetup& s, double ux, double uy, double kx, double ky, double wanted) {
  const double u = std::hypot(ux, uy), k = std::hypot(kx, ky), product = 2 * u * k;
  const double between = std::atan2(uy, ux) - std::atan2(ky, kx);
  if (product > 0) {
    const double longest = s.a2 + s.a3, shortest = s.a2 - s.a3, squares = u * u + k * k;
    const double low = std::clamp((squares - longest * longest) / product, -1.0, 1.0);
    const double high = std::clamp((squares - shortest * shortest) / product, -1.0, 1.0);
    const double away = wrapped(wanted - between);
    const double inside = std::clamp(std::fabs(away), std::acos(high), std::acos(low));
    wanted = between + std::copysign(inside, away);
  }
  return {std::cos(wanted), std::sin(wanted)};
}

// With joint 6 free, turns it as far from its set value as the links need to reach.
void reach_with_free_wrist(const ThreeParallelSetup& s, const Turn<Lanes>& t1, const Rotation3<Lanes>& M,
                           const Vec3& p, EulerTurns<Lanes>& w) {
  for (std::size_t l = 0; l < 4; ++l) {
    if (!(w.straight[l] < straight_sine)) continue;
    const double c1 = t1.c[l], s1 = t1.s[l], c5 = w.b.c[l], s5 = w.b.s[l];
    const Vec3 u = tilt(s.c2, -s.s2, Vec3{c1 * p.x + s1 * p.y - s.a1, c1 * p.y - s1 * p.x, p.z});
    const Vec3 k = tilt(s.wrist.c1, s.wrist.s1, Vec3{s.a5 * c5, s.a5 * s5, s.d5});
    const Turn<double> sum =
        reaching_sum(s, u.x, u.y, k.x + s.a4, k.y, std::atan2(w.a.s[l], w.a.c[l]));
    const Vec3 x = spin(sum, tilt(s.wrist.c1, s.wrist.s1, Vec3{c5, s5, 0}));
    w.a.c.set(l, sum.c);
    w.a.s.set(l, sum.s);
    w.c.c.set(l, x.x * M.x.x[l] + x.y * M.x.y[l] + x.z * M.x.z[l]);
    w.c.s.set(l, -(x.x * M.y.x[l] + x.y * M.y.y[l] + x.z * M.y.z[l]));
  }
}

ARMWRIGHT_INLINE bool write_elbows(const ThreeParallelSetup& s, const FirstTurns& first, const EulerTurns<Lanes>& w,
                                   const Vec3& p, const Turn<double>& set2, Branches& out) {
  const Planar to = fourth_axis(s, first.t1, w, p);
  const Elbow up = elbow_turns(s, to, 1, set2);
  write(s, first, w, to, up, out.pack[out.count++]);
  write(s, first, w, to, elbow_turns(s, to, -1, set2), out.pack[out.count++]);
  const auto possible = w.miss + to.miss + up.miss < Lanes(out.worth_polishing);
  return any(possible & ((absolute(up.t3.s) < Lanes(s.near_double)) | (absolute(w.b.s) < Lanes(s.near_double))));
}

ARMWRIGHT_BATCH void branches_of(const ThreeParallelSetup& s, const Pose& X, const FirstTurns* few,
                                 const std::array<Turn<double>, 6>& set, Branches& out) {
  const FirstTurns first = few ? *few : crossing_turns(s, X.position, set[0]);
  const Rotation3<Lanes> M = after_first(s, first.t1, X.rotation);
  EulerTurns<Lanes> w = euler_turns(s.wrist, M, 1, FreeTurn::last, set[5]);
  const EulerTurns<Lanes> back = euler_turns(s.wrist, M, -1, FreeTurn::last, set[5]);
  const bool straight = any(w.straight < Lanes(straight_sine));
  out.count = 0;
  if (few) {
    // Which of the wrist's two answers belongs to a root shows in the misfit along axis 2.
    EulerTurns<Lanes> other = back;
    if (straight) {
      reach_with_free_wrist(s, first.t1, M, X.position, w);
      reach_with_free_wrist(s, first.t1, M, X.position, other);
    }
    write_elbows(s, first, w, X.position, set[1], out);
    write_elbows(s, first, other, X.position, set[1], out);
    out.may_coincide = true;
    return;
  }
  // Lanes: both sides of axis 1, both answers of the wrist.
  const auto second = Lanes(Lanes::Vector{0, 1, 0, 1}) > Lanes(0.5);
  w.a = select_turn(second, back.a, w.a);
  w.b = select_turn(second, back.b, w.b);
  w.c = select_turn(second, back.c, w.c);
  w.miss = select(second, back.miss, w.miss);
  if (straight) reach_with_free_wrist(s, first.t1, M, X.position, w);
  const bool near = write_elbows(s, first, w, X.position, set[1], out);
  out.may_coincide = near || !first.apart;
}

}  // namespace

std::optional<ThreeParallelSetup> three_parallel_setup(const SixChain& chain) {
  constexpr double least_length = 1e-6, least_sine = 1e-3;
  const std::array<double, 6> zero{};
  const ChainPosture posture = chain_posture(chain, zero.data());
  auto axis = posture.axis;
  if (!parallel(axis[1], axis[2]) || !parallel(axis[1], axis[3])) return std::nullopt;
  ThreeParallelSetup s;
  s.joints.sign.fill(1);
  const Vec3 z2 = axis[1].direction;
  for (std::size_t i : {2, 3}) {
    if (dot(axis[i].direction, z2) < 0) s.joints.sign[i] = -1;
    axis[i].direction = z2;
  }
  const CommonNormal n12 = common_normal(axis[0], axis[1]), n45 = common_normal(axis[3], axis[4]),
                     n56 = common_normal(axis[4], axis[5]);
  if (n12.sine < least_sine || n45.sine < least_sine || n56.sine < least_sine) return std::nullopt;
  // The planes square to the parallel axes are all alike; axis 3's foot is as good as any.
  const CommonNormal n23 = common_normal({n12.foot_b, z2}, axis[2]), n34 = common_normal({n23.foot_b, z2}, axis[3]);
  s.a2 = n23.distance;
  s.a3 = n34.distance;
  if (s.a2 < least_length || s.a3 < least_length) return std::nullopt;
  const Vec3 z1 = axis[0].direction, z5 = axis[4].direction, z6 = axis[5].direction;
  const Vec3 x1 = n12.direction, x2 = n23.direction, x3 = n34.direction, x4 = n45.direction, x5 = n56.direction;
  s.a1 = n12.distance;
  s.c2 = dot(z1, z2);
  s.s2 = dot(x1, cross(z1, z2));
  s.d = dot(n45.foot_a - n12.foot_b, z2);
  s.a4 = n45.distance;
  s.d5 = dot(n56.foot_a - n45.foot_b, z5);
  s.a5 = n56.distance;
  s.crossing = s.a5 < meeting_tolerance;
  if (s.crossing) s.a5 = 0;
  s.wrist = EulerAxes::make(angle_about(x4, z2, z5), angle_about(x5, z5, z6));
  s.before = inverse(Pose{{x1, cross(z1, x1), z1}, n12.foot_a});
  s.after = inverse(posture.end) * Pose{{x5, cross(z6, x5), z6}, n56.foot_b};
  s.joints.shift = {0, angle_about(z2, x1, x2), angle_about(z2, x2, x3), angle_about(z2, x3, x4),
                    angle_about(z5, x4, x5), 0};
  s.joints.at_zero = turns_of_value(s.joints, 0);
  return s;
}

Pose three_parallel_end(const ThreeParallelSetup& s, const double* q) {
  std::array<Pose, 6> turn;
  for (std::size_t i = 0; i < 6; ++i) {
    turn[i] = {turn_about({0, 0, 1}, s.joints.sign[i] * q[i] + s.joints.shift[i]), {0, 0, 0}};
  }
  const auto tilted = [](double c, double sine, const Vec3& p) {
    return Pose{{{1, 0, 0}, {0, c, sine}, {0, -sine, c}}, p};
  };
  const EulerAxes& w = s.wrist;
  const Pose last = turn[4] * tilted(w.c2, w.s2, {s.a5, 0, 0}) * turn[5];
  const Pose X = turn[0] * tilted(s.c2, s.s2, {s.a1, 0, 0}) * turn[1] * Pose{no_rotation, {s.a2, 0, 0}} * turn[2] *
                 Pose{no_rotation, {s.a3, 0, s.d}} * turn[3] * tilted(w.c1, w.s1, {s.a4, 0, 0}) *
                 Pose{no_rotation, {0, 0, s.d5}} * last;
  return inverse(s.before) * X * inverse(s.after);
}

void solve_three_parallel(const ThreeParallelSetup& s, const Pose& target, double free_value, Branches& out) {
  const Pose X = s.before * target * s.after;
  out.worth_polishing = s.worth_polishing * s.worth_polishing;
  out.arm_free = false;
  std::array<Turn<double>, 6> set = s.joints.at_zero;
  if (free_value != 0) set = turns_of_value(s.joints, free_value);
  if (s.crossing) {
    branches_of(s, X, nullptr, set, out);
    return;
  }
  out.count = 0;
  const CircleRoots roots = first_turns_apart(s, X.position, X.rotation.z);
  if (roots.count == 0 && !roots.all) return;
  FirstTurns first;
  first.count = roots.all ? 1 : static_cast<std::size_t>(std::min(roots.count, 4));
  first.free = roots.all;
  first.apart = false;
  for (std::size_t k = 0; k < 4; ++k) {
    const double t = roots.angle[k < first.count ? k : 0];
    first.t1.c.set(k, roots.all ? set[0].c : std::cos(t));
    first.t1.s.set(k, roots.all ? set[0].s : std::sin(t));
  }
  branches_of(s, X, &first, set, out);
}

}  // namespace armwright
