#include "armwright/limits/spring_bound.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace armwright {

namespace {

constexpr double pi = 3.141592653589793, endless = std::numeric_limits<double>::infinity();

struct Interval {
  double low, high;
};

Interval times(const Interval& a, const Interval& b) {
  const auto [low, high] = std::minmax({a.low * b.low, a.low * b.high, a.high * b.low, a.high * b.high});
  return {low, high};
}

// Of cos over an interval.
Interval cosines(double from, double to) {
  if (to - from >= 2 * pi) return {-1, 1};
  const double a = std::cos(from), b = std::cos(to);
  Interval out{std::fmin(a, b), std::fmax(a, b)};
  if (std::floor(to / (2 * pi)) > std::floor(from / (2 * pi)) || std::fmod(from, 2 * pi) == 0) out.high = 1;
  if (std::floor((to - pi) / (2 * pi)) > std::floor((from - pi) / (2 * pi))) out.low = -1;
  return out;
}

}  // namespace

std::size_t only_joint_of(const Model& model, const Spring& spring) {
  const int low = std::min(spring.frame_a, spring.frame_b), high = std::max(spring.frame_a, spring.frame_b);
  if (high - low != 1) return model.joint_count;
  const auto joint = static_cast<std::size_t>(high);
  return model.step[joint].kind == JointKind::revolute ? joint : model.joint_count;
}

SpringAtJoint spring_at_joint(const Model& model, const Spring& spring, std::size_t joint) {
  const JointStep& step = model.step[joint];
  const bool b_is_further = spring.frame_b > spring.frame_a;
  Vec3 near = b_is_further ? spring.a : spring.b;
  const Vec3 far = b_is_further ? spring.b : spring.a;
  if (joint == 0) near = inverse(model.base) * near;
  near = near - step.offset;
  near = {near.x, step.cos_alpha * near.y + step.sin_alpha * near.z, step.cos_alpha * near.z - step.sin_alpha * near.y};
  SpringAtJoint out;
  const double r = std::hypot(near.x, near.y), s = std::hypot(far.x, far.y), up = near.z - far.z;
  out.a = r * r + s * s + up * up;
  out.b = -2 * r * s;
  out.q0 = std::atan2(near.y, near.x) - std::atan2(far.y, far.x) - step.zero;
  out.rest = spring.pull - spring.rate * spring.length;
  out.rate = spring.rate;
  out.pulls_only = spring.pulls_only;
  out.longest = std::fmin(r, s);
  return out;
}

SpringRange spring_range(const SpringAtJoint& spring, double angle, double half) {
  const auto over_length = [&](double length) {
    const double g = spring.rate + (spring.rest != 0 ? (length > 1e-9 ? spring.rest / length : 0) : 0);
    return spring.pulls_only ? std::fmax(g, 0) : g;
  };
  const double x = angle - spring.q0, length = std::sqrt(std::fmax(spring.a + spring.b * std::cos(x), 0));
  const double du = -spring.b * std::sin(x), ddu = -spring.b * std::cos(x), g = over_length(length);
  const double dg = length > 1e-9 && (g != 0 || !spring.pulls_only) ? -spring.rest * du / (2 * length * length * length) : 0;
  SpringRange out{-0.5 * g * du, -0.5 * (dg * du + g * ddu), 0, 0, endless};

  const Interval c = cosines(x - half, x + half), s = cosines(x - half - pi / 2, x + half - pi / 2);
  const double shortest = std::sqrt(std::fmax(spring.a + spring.b * c.high, 0)), longest = std::sqrt(spring.a + spring.b * c.low);  // b is not positive
  const double pull_a = spring.rest + spring.rate * shortest, pull_b = spring.rest + spring.rate * longest;
  const double strongest = std::fmax(std::fabs(pull_a), std::fabs(pull_b)) * spring.longest;
  if (shortest < 1e-6 && spring.rest != 0) {
    out.least = -strongest, out.greatest = strongest;
    return out;
  }
  const double ga = over_length(shortest), gb = over_length(longest);
  const Interval gains{std::fmin(ga, gb), std::fmax(ga, gb)};
  const Interval given = times(gains, {0.5 * spring.b * s.high, 0.5 * spring.b * s.low});
  out.least = std::fmax(given.low, -strongest), out.greatest = std::fmin(given.high, strongest);
  if (spring.pulls_only && (pull_a < 0) != (pull_b < 0)) return out;  // slack somewhere in there
  const double b = std::fabs(spring.b), cube = spring.rest != 0 ? std::fabs(spring.rest) / (shortest * shortest * shortest) : 0;
  const double first = 0.5 * cube * b, second = spring.rest != 0 ? cube * (0.5 * b + 0.75 * b * b / (shortest * shortest)) : 0;
  const bool slack = spring.pulls_only && pull_a < 0;
  out.bend = slack ? 0 : 0.5 * b * (second + 2 * first + std::fmax(std::fabs(ga), std::fabs(gb)));
  return out;
}

double spring_most(const Model& model, const Spring& spring, std::size_t joint) {
  const int low = std::min(spring.frame_a, spring.frame_b), high = std::max(spring.frame_a, spring.frame_b);
  if (static_cast<int>(joint) <= low || static_cast<int>(joint) > high) return 0;
  const bool a_is_near = spring.frame_a < spring.frame_b;
  const Vec3& far = a_is_near ? spring.b : spring.a;
  Vec3 near = a_is_near ? spring.a : spring.b;
  if (low < 0) near = near - model.base.position;  // from the origin before joint 0
  // From a joint's origin to the far end, at the longest; and of the whole reach.
  const auto between = [&](int from, int to) {
    double sum = 0;
    for (int i = from + 1; i <= to; ++i) {
      const auto k = static_cast<std::size_t>(i);
      sum += norm(model.step[k].offset);
      if (model.step[k].kind == JointKind::prismatic) sum += std::fmax(std::fabs(model.lower[k]), std::fabs(model.upper[k]));
    }
    return sum;
  };
  const double longest = norm(near) + between(low, high) + norm(far);
  const double pull = std::fmax(std::fabs(spring_pull(spring, 0)), std::fabs(spring_pull(spring, longest)));
  if (model.step[joint].kind == JointKind::prismatic) return pull;
  return pull * (between(static_cast<int>(joint), high) + norm(far));
}

}  // namespace armwright
