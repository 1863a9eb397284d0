#include "armwright/motion/tool_curve.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

constexpr double metres_a_radian = 0.1;  // what a turn without way counts as
constexpr double no_motion = 1e-12;      // m

// The turn from one attitude to another about one world axis.
void set_turn(const Rotation& from, const Rotation& to, ToolCurve& curve) {
  const Rotation R = to * transpose(from);
  curve.angle = angle_of(R);
  const Vec3 off{R.y.z - R.z.y, R.z.x - R.x.z, R.x.y - R.y.x};
  const double sine = norm(off);
  if (sine > 1e-6) {
    curve.axis = (1 / sine) * off;
  } else if (curve.angle > 1) {  // half a turn: the axis is the longest column of R + 1
    const Vec3 columns[3] = {R.x + Vec3{1, 0, 0}, R.y + Vec3{0, 1, 0}, R.z + Vec3{0, 0, 1}};
    const Vec3& longest = *std::max_element(columns, columns + 3, [](const Vec3& a, const Vec3& b) { return dot(a, a) < dot(b, b); });
    curve.axis = (1 / norm(longest)) * longest;
  } else if (sine > 0) {
    curve.axis = (1 / sine) * off;
  }
}

void set_extent(ToolCurve& curve) {
  curve.extent = std::max(curve.length, metres_a_radian * curve.angle);
  if (curve.extent < no_motion) curve.extent = 0;
}

}  // namespace

ToolCurve tool_line(const Pose& from, const Pose& to) {
  ToolCurve curve;
  curve.from = from;
  curve.step = to.position - from.position;
  curve.length = norm(curve.step);
  set_turn(from.rotation, to.rotation, curve);
  set_extent(curve);
  return curve;
}

bool tool_arc(const Pose& from, const Vec3& via, const Pose& to, ToolCurve& curve) {
  const Vec3 a = via - from.position, b = to.position - from.position;
  const Vec3 normal = cross(a, b);
  const double area = norm(normal), least = std::min({norm(a), norm(b), norm(b - a)});
  if (!(least > 1e-9) || area <= 1e-9 * norm(a) * norm(b)) return false;
  curve = {};
  curve.from = from;
  curve.round = true;
  // Centre of the circle through 0, a, b (textbook): ((|a|² b − |b|² a) × (a × b)) / (2 |a × b|²), seen from the start.
  const Vec3 centre = (1 / (2 * area * area)) * cross(dot(a, a) * b - dot(b, b) * a, normal);
  curve.centre = from.position + centre;
  curve.radius = norm(centre);
  curve.out = (-1 / curve.radius) * centre;
  curve.ahead = (1 / area) * cross(normal, curve.out);
  const Vec3 end = to.position - curve.centre;
  curve.sweep = std::atan2(dot(end, curve.ahead), dot(end, curve.out));
  if (curve.sweep <= 0) curve.sweep += 2 * std::numbers::pi;
  curve.length = curve.radius * curve.sweep;
  set_turn(from.rotation, to.rotation, curve);
  set_extent(curve);
  return true;
}

Pose pose_at(const ToolCurve& curve, double s) {
  const double share = curve.extent > 0 ? s / curve.extent : 0;
  Pose X;
  X.rotation = turn_about(curve.axis, share * curve.angle) * curve.from.rotation;
  if (curve.round) {
    const double turn = share * curve.sweep;
    X.position = curve.centre + curve.radius * (std::cos(turn) * curve.out + std::sin(turn) * curve.ahead);
  } else {
    X.position = curve.from.position + share * curve.step;
  }
  return X;
}

CurveRates rates_at(const ToolCurve& curve, double s) {
  const double share = s / curve.extent, each = 1 / curve.extent;
  CurveRates rates{each * curve.step, (each * curve.angle) * curve.axis, {0, 0, 0}};
  if (curve.round) {
    const double turn = share * curve.sweep, rate = each * curve.sweep, c = std::cos(turn), d = std::sin(turn);
    rates.linear = (curve.radius * rate) * (c * curve.ahead - d * curve.out);
    rates.linear_next = (-curve.radius * rate * rate) * (c * curve.out + d * curve.ahead);
  }
  return rates;
}

}  // namespace armwright
