#include "armwright/model/chain_steps.hpp"

#include <cmath>

#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

// Successive axes closer to parallel than this have no common normal worth computing; any direction square to both
// will do, since the remaining turn is then smaller than rounding.
constexpr double no_angle = 1e-15;
// Below this angle the common normal's foot may lie far away, where digits are lost and no reach can be told from the
// steps' lengths; the joint's own origin serves.
constexpr double small_angle = 0.1;

// A unit vector square to both axes; for parallel ones, the same choice each time. For nearly parallel ones the product's
// rounding is no longer small beside its length: what of it lies along `a` is taken out, lest the frame be askew. What
// is then left along `b` is as small as rounding.
Vec3 common_normal(const Vec3& a, const Vec3& b) {
  const Vec3 n = cross(a, b);
  if (norm(n) <= no_angle) return frame_on(a).x;
  Vec3 x = (1 / norm(n)) * n;
  for (int round = 0; round < 2; ++round) {
    x = x - dot(x, a) * a;
    x = (1 / norm(x)) * x;
  }
  return x;
}

// Where on its axis a joint frame sits: at the foot of the common normal with the next axis, if that is well defined.
Vec3 frame_origin(const JointAxis& axis, const JointAxis& next) {
  const Vec3 n = cross(axis.direction, next.direction);
  const double square = dot(n, n);
  if (square < small_angle * small_angle) return axis.point;
  const double along = dot(cross(next.point - axis.point, next.direction), n) / square;
  return axis.point + along * axis.direction;
}

}  // namespace

ChainSteps steps_along(std::span<const JointAxis> axes) {
  const std::size_t n = axes.size();
  ChainSteps chain;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3 z = axes[i].direction;
    const Vec3 x = i + 1 < n ? common_normal(z, axes[i + 1].direction) : frame_on(z).x;
    chain.frame[i] = {{x, cross(z, x), z}, i + 1 < n ? frame_origin(axes[i], axes[i + 1]) : axes[i].point};
  }
  // The first step turns about z only: its parent stands on the first axis already.
  chain.base = {frame_on(axes[0].direction), chain.frame[0].position};

  for (std::size_t i = 0; i < n; ++i) {
    const Pose& before = i == 0 ? chain.base : chain.frame[i - 1];
    JointStep& step = chain.step[i];
    step.kind = axes[i].kind;
    step.offset = transpose_times(before.rotation, chain.frame[i].position - before.position);
    const Vec3 z = transpose_times(before.rotation, axes[i].direction);   // (0, -sin alpha, cos alpha)
    const double length = std::hypot(z.y, z.z);
    step.cos_alpha = z.z / length;
    step.sin_alpha = -z.y / length;
    const Vec3 x = transpose_times(before.rotation, chain.frame[i].rotation.x);  // (cos, sin cos_alpha, sin sin_alpha)
    step.zero = std::atan2(x.y * step.cos_alpha + x.z * step.sin_alpha, x.x);
    step.cos_zero = std::cos(step.zero);
    step.sin_zero = std::sin(step.zero);
  }
  return chain;
}

}  // namespace armwright
