#include "armwright/kinematics/inverse/few/wrist.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "armwright/kinematics/inverse/axes.hpp"
#include "armwright/kinematics/inverse/few/circle_search.hpp"
#include "armwright/kinematics/inverse/few/turns_onto.hpp"

namespace armwright {

namespace {

constexpr double nothing = 1e-11;  // of the searched functions, in units of size

bool slides(const JointAxis& axis) { return axis.kind == JointKind::prismatic; }

Rotation turn_of(const JointAxis& axis, double value) { return slides(axis) ? no_rotation : turn_about(axis.direction, value); }

// Completes an answer of the first three joints.
void add_wrists(const SlidingWrist& wrist, const std::array<double, 3>& front, const Rotation& target, double free_value, Candidates& out) {
  const auto& axis = wrist.chain.axis;
  Rotation before = no_rotation;
  for (std::size_t i = 0; i < 3; ++i) before = before * turn_of(axis[i], front[i]);
  const std::array<Vec3, 3> axes{axis[3].direction, axis[4].direction, axis[5].direction};
  const TurnsOnto turns = turns_onto(axes, transpose(before) * target * transpose(wrist.chain.end.rotation), free_value);
  for (int k = 0; k < turns.count; ++k) {
    const auto& t = turns.angle[static_cast<std::size_t>(k)];
    out.add({front[0], front[1], front[2], t[0], t[1], t[2]});
  }
}

struct Fronts {
  int count = 0;
  std::array<std::array<double, 3>, 40> q;
  void add(const std::array<double, 3>& front) {
    if (count < 40) q[static_cast<std::size_t>(count++)] = front;
  }
};

Eigen::Vector3d eigen(const Vec3& v) { return {v.x, v.y, v.z}; }

// At most one joint turns: with its turn given the rest is linear, and solvable where a determinant vanishes.
struct OneTurn {
  const SlidingWrist& wrist;
  const Vec3& point;
  int turn = -1;  ///< which joint; -1: none
  double free_value = 0;

  std::array<double, 3> at(double t, double* volume) const {
    const auto& axis = wrist.chain.axis;
    Pose X = identity_pose;
    Eigen::Matrix3d A = Eigen::Matrix3d::Zero();
    std::array<int, 3> which{};
    Eigen::Index columns = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      if (static_cast<int>(i) == turn) {
        X = X * moved_by(axis[i], t);
      } else {
        which[static_cast<std::size_t>(columns)] = static_cast<int>(i);
        A.col(columns++) = eigen(X.rotation * axis[i].direction);
      }
    }
    const Eigen::Vector3d left = eigen((1 / wrist.chain.size) * (point - X * wrist.centre));
    std::array<double, 3> q{};
    if (turn >= 0) q[static_cast<std::size_t>(turn)] = t;
    if (volume) {
      A.col(2) = left;
      *volume = A.determinant();
      return q;
    }
    const Eigen::VectorXd d = A.leftCols(columns).colPivHouseholderQr().solve(left);
    for (Eigen::Index k = 0; k < columns; ++k) q[static_cast<std::size_t>(which[static_cast<std::size_t>(k)])] = wrist.chain.size * d(k);
    return q;
  }

  void find(Fronts& out) const {
    if (turn < 0) return out.add(at(0, nullptr));
    const TrigRoots roots = circle_search([&](double t) {
      double volume;
      at(t, &volume);
      return volume;
    }, nothing, free_value);
    for (int k = 0; k < roots.count; ++k) out.add(at(roots.root[static_cast<std::size_t>(k)].angle, nullptr));
  }
};

// Two joints turn, a first and then b, and one slides by d. Seen from a point on axis a, where the point stands at T:
//   the height along axis a:   A + B d = 0
//   the distance squared:      E + 2 F d + G d² = 0
// with A, B, E, F of first degree in the cosine and sine of turn b. Without d: E B² - 2 A B F + G A² = 0.
struct TwoTurns {
  const SlidingWrist& wrist;
  const Vec3& point;
  std::size_t a, b, slide;
  double free_value = 0;

  struct Terms {
    double A, B, E, F, G;
  };
  Terms at(double t) const {
    const auto& axis = wrist.chain.axis;
    const double unit = 1 / wrist.chain.size;
    const Vec3 T = unit * (point - axis[a].point), V = unit * (moved_by(axis[b], t) * wrist.centre - axis[a].point);
    const Vec3 w = axis[slide].direction;
    const double height = dot(axis[a].direction, V - T), square = dot(V, V) - dot(T, T);
    if (slide == 0) return {height, dot(axis[a].direction, w), square, dot(T, w), -1};  // T - w d in place of T
    const Vec3 W = slide == 2 ? turn_about(axis[b].direction, t) * w : w;
    return {height, dot(axis[a].direction, W), square, dot(V, W), 1};
  }

  // The slide where the distance asks for it; beyond reach, the nearest.
  static TwoAngles by_distance(const Terms& s) {
    const double half = -s.F / s.G, rest = half * half - s.E / s.G;
    const double root = std::sqrt(std::fmax(0.0, rest));
    return {rest > 0 ? 2 : (rest > -1e-9 ? 1 : 0), {half + root, half - root}};
  }

  void add(double t, double d, Fronts& out) const {
    const auto& axis = wrist.chain.axis;
    const double slid = d * wrist.chain.size;
    Pose X = moved_by(axis[b], t);
    Vec3 T = point;
    if (slide == 0) T = T - slid * axis[0].direction;
    if (slide == 1) X = moved_by(axis[1], slid) * X;
    if (slide == 2) X = X * moved_by(axis[2], slid);
    std::array<double, 3> q{};
    q[slide] = slid;
    q[b] = t;
    q[a] = angle_seen_along(axis[a].direction, X * wrist.centre - axis[a].point, T - axis[a].point);
    out.add(q);
  }

  void find(Fronts& out) const {
    double slope = 0;
    for (int k = 0; k < 5; ++k) slope = std::fmax(slope, std::fabs(at(0.4 + k).B));
    const bool level = slope < 1e-9;  // the slide does not change the height
    const TrigRoots roots = circle_search([&](double t) {
      const Terms s = at(t);
      return level ? s.A : s.E * s.B * s.B - 2 * s.A * s.B * s.F + s.G * s.A * s.A;
    }, nothing, free_value);
    for (int k = 0; k < roots.count; ++k) {
      const double t = roots.root[static_cast<std::size_t>(k)].angle;
      const Terms s = at(t);
      if (!level && std::fabs(s.B) > 1e-7) add(t, -s.A / s.B, out);
      if (!level && std::fabs(s.B) > 1e-4) continue;  // else the distance tells more
      const TwoAngles slid = by_distance(s);
      for (int i = 0; i < slid.count; ++i) add(t, slid.angle[static_cast<std::size_t>(i)], out);
    }
  }
};

}  // namespace

std::optional<SlidingWrist> sliding_wrist(const AxisChain& chain) {
  if (chain.count != 6) return std::nullopt;
  const auto& axis = chain.axis;
  if (slides(axis[3]) || slides(axis[4]) || slides(axis[5])) return std::nullopt;
  if (!slides(axis[0]) && !slides(axis[1]) && !slides(axis[2])) return std::nullopt;
  SlidingWrist wrist{chain, {}};
  const auto line = [&](std::size_t i) { return AxisLine{axis[i].point, axis[i].direction}; };
  if (!meet(line(3), line(4), line(5), wrist.centre)) return std::nullopt;
  // The first three must move the centre in all directions: their part of the Jacobian, at a few postures.
  for (const double t : {0.3, 1.7, -0.9}) {
    Pose X = identity_pose;
    std::array<JointAxis, 3> now;
    for (std::size_t i = 0; i < 3; ++i) {
      now[i] = {X * axis[i].point, X.rotation * axis[i].direction, axis[i].kind};
      X = X * moved_by(axis[i], slides(axis[i]) ? t * chain.size : t + static_cast<double>(i));
    }
    const Vec3 centre = X * wrist.centre;
    std::array<Vec3, 3> column;
    for (std::size_t i = 0; i < 3; ++i)
      column[i] = slides(now[i]) ? now[i].direction : (1 / chain.size) * cross(now[i].direction, centre - now[i].point);
    if (std::fabs(dot(column[0], cross(column[1], column[2]))) > 1e-7) return wrist;
  }
  return std::nullopt;
}

void candidates_by_wrist(const SlidingWrist& wrist, const Pose& target, double free_value, Candidates& out) {
  const Vec3 point = target * (inverse(wrist.chain.end) * wrist.centre);
  std::array<std::size_t, 3> turning{};
  std::size_t turns = 0, slide = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    if (slides(wrist.chain.axis[i])) slide = i;
    else turning[turns++] = i;
  }
  Fronts fronts;
  if (turns < 2) OneTurn{wrist, point, turns == 0 ? -1 : static_cast<int>(turning[0]), free_value}.find(fronts);
  else TwoTurns{wrist, point, turning[0], turning[1], slide, free_value}.find(fronts);
  for (int k = 0; k < fronts.count; ++k) add_wrists(wrist, fronts.q[static_cast<std::size_t>(k)], target.rotation, free_value, out);
}

}  // namespace armwright
