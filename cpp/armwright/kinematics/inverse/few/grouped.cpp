#include "armwright/kinematics/inverse/few/grouped.hpp"

#include <Eigen/Dense>

#include "armwright/kinematics/inverse/few/circle_search.hpp"
#include "armwright/kinematics/inverse/few/turns_onto.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"

namespace armwright {

namespace {

constexpr double nothing = 1e-11;  // of the searched functions, lengths in units of size: zero everywhere
constexpr int tries = 72;
constexpr double near_attitude = 1e-3;  // rad: farther off the pose is not one of the chain's

// fixed + cosine cos t + sine sin t, with t the turn of `which`, or none.
struct Turned {
  Vec3 fixed{}, cosine{}, sine{};
  int which = -1;
  Vec3 at(double t) const { return fixed + std::cos(t) * cosine + std::sin(t) * sine; }
};

// What the sums leave to be found: rest = Σ (cosine cos t + sine sin t) over the turns + Σ slide · direction.
struct Placing {
  const AxisChain& chain;
  const Groups& groups;
  const std::array<double, 3>& sum;
  int turns = 0, slides = 0;
  std::array<Turned, 5> turn{};    ///< `which` is the joint
  std::array<Turned, 6> slide{};   ///< `which` is the turn
  std::array<int, 6> slide_joint{};
  std::array<Vec3, 6> turn_axis{};
  Vec3 rest{};
};

Turned turned_vector(const Rotation& before, const Vec3& axis, const Vec3& v) {
  const Vec3 along = dot(v, axis) * axis, across = v - along;
  return {before * along, before * across, before * cross(axis, across), -1};
}

Placing placing_of(const AxisChain& chain, const Groups& groups, const std::array<double, 3>& sum, const Vec3& position) {
  Placing p{chain, groups, sum};
  const double unit = 1 / chain.size;
  Rotation before = no_rotation;
  int open = -1;
  Vec3 axis{0, 0, 1};
  p.rest = unit * position;
  Vec3 from{0, 0, 0};
  for (std::size_t i = 0; i <= chain.count; ++i) {
    // the link up to joint i, or to the end
    const Vec3 to = i < chain.count ? chain.axis[i].point : chain.end.position;
    const Vec3 link = unit * (to - from);
    from = to;
    if (open < 0) {
      p.rest = p.rest - before * link;
    } else {
      const Turned t = turned_vector(before, axis, link);
      Turned& turn = p.turn[static_cast<std::size_t>(open)];
      p.rest = p.rest - t.fixed;
      turn.cosine = turn.cosine + t.cosine;
      turn.sine = turn.sine + t.sine;
    }
    if (i == chain.count) break;
    const int group = groups.of[i];
    if (group < 0) {
      const auto s = static_cast<std::size_t>(p.slides++);
      p.slide[s] = open < 0 ? Turned{before * chain.axis[i].direction, {}, {}, -1} : turned_vector(before, axis, chain.axis[i].direction);
      p.slide[s].which = open;
      p.slide_joint[s] = static_cast<int>(i);
      continue;
    }
    axis = groups.axis[static_cast<std::size_t>(group)];
    if (groups.last[static_cast<std::size_t>(group)] == static_cast<int>(i)) {
      before = before * turn_about(axis, sum[static_cast<std::size_t>(group)]);
      open = -1;
    } else {
      open = p.turns++;
      p.turn[static_cast<std::size_t>(open)].which = static_cast<int>(i);
      p.turn_axis[static_cast<std::size_t>(open)] = before * axis;
    }
  }
  return p;
}

// Slides by least squares for given turns, and from the sums up to each joint the joints' own turns.
void add_answer(const Placing& p, const std::array<double, 2>& turn, Candidates& out) {
  Eigen::Matrix<double, 3, Eigen::Dynamic, Eigen::ColMajor, 3, 3> A(3, p.slides);
  Vec3 left = p.rest;
  for (std::size_t k = 0; k < static_cast<std::size_t>(p.turns); ++k) left = left - p.turn[k].at(turn[k]);
  for (int s = 0; s < p.slides; ++s) {
    const Turned& slide = p.slide[static_cast<std::size_t>(s)];
    const Vec3 w = slide.at(slide.which < 0 ? 0 : turn[static_cast<std::size_t>(slide.which)]);
    A.col(s) << w.x, w.y, w.z;
  }
  JointValues q{};
  if (p.slides > 0) {
    const Eigen::Matrix<double, Eigen::Dynamic, 1, Eigen::ColMajor, 3, 1> d = A.colPivHouseholderQr().solve(Eigen::Vector3d(left.x, left.y, left.z));
    for (int s = 0; s < p.slides; ++s) q[static_cast<std::size_t>(p.slide_joint[static_cast<std::size_t>(s)])] = p.chain.size * d(s);
  }
  std::array<double, 6> before{};  // of each group: the turn up to here
  int next = 0;
  for (std::size_t i = 0; i < p.chain.count; ++i) {
    if (p.groups.of[i] < 0) continue;
    const auto group = static_cast<std::size_t>(p.groups.of[i]);
    const bool last = p.groups.last[group] == static_cast<int>(i);
    const double upto = last ? p.sum[group] : turn[static_cast<std::size_t>(next++)];
    q[i] = wrapped(p.groups.sign[i] * (upto - before[group]));
    before[group] = upto;
  }
  out.add(q);
}

double volume(const Vec3& a, const Vec3& b, const Vec3& c) { return dot(a, cross(b, c)); }

// One turn; the slides span a line or a plane, and what is left must lie in it.
void one_turn(const Placing& p, Candidates& out) {
  const Turned& u = p.turn[0];
  if (p.slides == 0) {
    Eigen::Matrix<double, 3, 2> A;
    A << u.cosine.x, u.sine.x, u.cosine.y, u.sine.y, u.cosine.z, u.sine.z;
    const Eigen::Vector2d cs = A.colPivHouseholderQr().solve(Eigen::Vector3d(p.rest.x, p.rest.y, p.rest.z));
    add_answer(p, {std::atan2(cs(1), cs(0)), 0}, out);
    return;
  }
  constexpr Vec3 some{0.48, 0.64, 0.6};  // two conditions, of which one combination is searched; the fit asks for both
  constexpr Vec3 other{-0.36, 0.8, -0.48};
  for (const Vec3& way : {some, other}) {
    const TrigRoots roots = circle_search([&](double t) {
      const Vec3 left = p.rest - u.at(t), w = p.slide[0].at(t);
      return p.slides == 1 ? volume(way, w, left) : volume(w, p.slide[1].at(t), left);
    }, nothing, 0);
    for (int k = 0; k < roots.count; ++k) add_answer(p, {roots.root[static_cast<std::size_t>(k)].angle, 0}, out);
    if (p.slides > 1) break;
  }
}

// Two turns and up to one slide: seen along the slide, two equations linear in the cosine and sine of turn b.
struct AlongSlide {
  double c0, s0, c1, s1, r0, r1;
  double determinant() const { return c0 * s1 - s0 * c1; }
};

struct TwoTurnsOneSlide {
  const Placing& p;
  std::size_t a, b;

  AlongSlide at(double t) const {
    const Turned& slide = p.slide[0];
    const Vec3 w = slide.at(t);
    Rotation rows = frame_on(w);
    if (slide.which >= 0 && norm(slide.cosine) > 1e-6) {
      // Polynomials in the cosine and sine of t, of constant length.
      rows.x = (1 / norm(slide.cosine)) * cross(p.turn_axis[a], w);
      rows.y = cross(w, rows.x);
    }
    const Vec3 left = p.rest - p.turn[a].at(t), &C = p.turn[b].cosine, &S = p.turn[b].sine;
    return {dot(rows.x, C), dot(rows.x, S), dot(rows.y, C), dot(rows.y, S), dot(rows.x, left), dot(rows.y, left)};
  }

  void add(double t, double other, Candidates& out) const {
    std::array<double, 2> turn{};
    turn[a] = t;
    turn[b] = other;
    add_answer(p, turn, out);
  }

  void regular(Candidates& out) const {
    const TrigRoots roots = circle_search([&](double t) {
      const AlongSlide e = at(t);
      const double x = e.r0 * e.s1 - e.s0 * e.r1, y = e.c0 * e.r1 - e.r0 * e.c1, D = e.determinant();
      return x * x + y * y - D * D;
    }, nothing * nothing, 0);
    for (int k = 0; k < roots.count; ++k) {
      const double t = roots.root[static_cast<std::size_t>(k)].angle;
      const AlongSlide e = at(t);
      const double D = e.determinant();
      if (std::fabs(D) > 1e-7) add(t, std::atan2((e.c0 * e.r1 - e.r0 * e.c1) / D, (e.r0 * e.s1 - e.s0 * e.r1) / D), out);
      if (std::fabs(D) > 1e-4) continue;
      for (const TwoAngles& some : {angles_with(e.c0, e.s0, e.r0), angles_with(e.c1, e.s1, e.r1)})
        for (int i = 0; i < some.count; ++i) add(t, some.angle[static_cast<std::size_t>(i)], out);
    }
  }

  // Turn b moves within a plane that holds the slide: what stands square to it is left to turn a.
  void in_plane(Candidates& out) const {
    const AlongSlide e0 = at(0.3);
    const bool by_cosine = std::hypot(e0.c0, e0.c1) > std::hypot(e0.s0, e0.s1);
    const TrigRoots roots = circle_search([&](double t) {
      const AlongSlide e = at(t);
      return by_cosine ? e.c0 * e.r1 - e.c1 * e.r0 : e.s0 * e.r1 - e.s1 * e.r0;
    }, nothing, 0);
    for (int k = 0; k < roots.count; ++k) {
      const double t = roots.root[static_cast<std::size_t>(k)].angle;
      const AlongSlide e = at(t);
      const double nx = by_cosine ? e.c0 : e.s0, ny = by_cosine ? e.c1 : e.s1;
      const TwoAngles others = angles_with(nx * e.c0 + ny * e.c1, nx * e.s0 + ny * e.s1, nx * e.r0 + ny * e.r1);
      for (int i = 0; i < others.count; ++i) add(t, others.angle[static_cast<std::size_t>(i)], out);
    }
  }

  void find(Candidates& out) const {
    double most = 0;
    for (int k = 0; k < 7; ++k) most = std::max(most, std::fabs(at(0.4 + k).determinant()));
    most > 1e-9 ? regular(out) : in_plane(out);
  }
};

// Two turns alone: each moves a point on a circle, and the circles meet. In one plane: two links. Otherwise the first
// must lead into the plane of the second.
void two_turns(const Placing& p, Candidates& out) {
  const Turned &a = p.turn[0], &b = p.turn[1];
  TwoAngles first;
  if (norm(cross(p.turn_axis[0], p.turn_axis[1])) < parallel_tolerance) {
    const Vec3 n = p.turn_axis[0], r = p.rest - dot(p.rest, n) * n;
    first = angles_with(2 * dot(r, a.cosine), 2 * dot(r, a.sine), dot(r, r) + dot(a.cosine, a.cosine) - dot(b.cosine, b.cosine));
    if (norm(r) < 1e-9) first = {1, {0, 0}};  // any
  } else {
    const Vec3 n = p.turn_axis[1];
    first = angles_with(dot(n, a.cosine), dot(n, a.sine), dot(n, p.rest));
  }
  for (int k = 0; k < first.count; ++k) {
    const double t = first.angle[static_cast<std::size_t>(k)];
    const Vec3 left = p.rest - a.at(t);
    add_answer(p, {t, std::atan2(dot(left, b.sine), dot(left, b.cosine))}, out);
  }
}

void place(const Placing& p, Candidates& out) {
  if (p.turns == 0) return add_answer(p, {}, out);
  if (p.turns == 1) return one_turn(p, out);
  if (p.slides == 0) return two_turns(p, out);
  const std::size_t a = p.slide[0].which > 0 ? 1 : 0;  // the turn that carries the slide is the one searched
  TwoTurnsOneSlide{p, a, 1 - a}.find(out);
}

}  // namespace

Groups groups_of(const AxisChain& chain) {
  Groups groups;
  for (std::size_t i = 0; i < chain.count; ++i) {
    groups.of[i] = -1;
    if (chain.axis[i].kind == JointKind::prismatic) continue;
    const Vec3 z = chain.axis[i].direction;
    const auto open = static_cast<std::size_t>(groups.count);
    if (open == 0 || norm(cross(groups.axis[open - 1], z)) > parallel_tolerance) groups.axis[static_cast<std::size_t>(groups.count++)] = z;
    const auto group = static_cast<std::size_t>(groups.count - 1);
    groups.of[i] = groups.count - 1;
    groups.sign[i] = dot(groups.axis[group], z) < 0 ? -1 : 1;
    groups.last[group] = static_cast<int>(i);
    ++groups.turning;
  }
  return groups;
}

bool fits_groups(const AxisChain& chain, const Groups& groups) {
  const int slides = static_cast<int>(chain.count) - groups.turning, turns = groups.turning - groups.count;
  if (groups.count > 3) return false;
  return (turns == 0 && slides <= 3) || (turns == 1 && slides <= 2) || (turns == 2 && slides <= 1);
}

void candidates_by_groups(const AxisChain& chain, const Groups& groups, const Pose& target, bool first_is_free, double first_turn, Candidates& out) {
  const Rotation R = target.rotation * transpose(chain.end.rotation);
  const std::span<const Vec3> axes(groups.axis.data(), static_cast<std::size_t>(groups.count));
  TurnsOnto sums = turns_onto(axes, R, first_turn);
  const auto place_all = [&] {
    for (int k = 0; k < sums.count; ++k) {
      const auto& sum = sums.angle[static_cast<std::size_t>(k)];
      Rotation made = no_rotation;
      for (std::size_t g = 0; g < axes.size(); ++g) made = made * turn_about(axes[g], sum[g]);
      if (angle_between(made, R) < near_attitude) place(placing_of(chain, groups, sum, target.position), out);
    }
  };
  if (!sums.free) return place_all();
  const auto good = [&] {
    for (int k = 0; k < out.count; ++k) {
      JointValues q = out.q[static_cast<std::size_t>(k)];
      if (fit(chain, target, q)) return true;
    }
    return false;
  };
  for (int k = 0; k < tries; ++k) {
    sums = turns_onto(axes, R, first_turn + 6.283185307179586 * k / tries);
    if (first_is_free) out.count = 0;
    place_all();
    if (first_is_free && good()) return;
  }
}

}  // namespace armwright
