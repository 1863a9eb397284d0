#include "armwright/dynamics/hanging.hpp"

#include <cmath>
#include <limits>

#include "armwright/dynamics/gravity_of.hpp"

namespace armwright {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double no_arm = 1e-3;  // m; below it places are not known well enough to tell which way the centre of gravity lies

void store(const Vec3& v, double* out) { out[0] = v.x, out[1] = v.y, out[2] = v.z; }

// Holding torques under gravity g, the base body loose and M g taken in `at`, a point that moves with link `last`.
void held_hanging(const Model& model, const Pose* frames, const Vec3& g, double mass, const Vec3& at, int last, double* torque) {
  const std::size_t n = model.joint_count;
  Vec3 moment{0, 0, 0};
  double beyond = 0;
  for (std::size_t i = n; i-- > 0;) {
    beyond += model.link[i].mass;
    moment = moment + model.link[i].mass * (frames[i] * model.link[i].centre);
    // What is beyond joint i: its weight, and the hoist's pull if that takes hold there.
    const bool pulled = static_cast<int>(i) <= last;
    const Vec3& o = frames[i].position;
    const Vec3 force = (beyond - (pulled ? mass : 0)) * g;
    Vec3 turning = cross(moment - beyond * o, g);
    if (pulled) turning = turning - cross(at - o, mass * g);
    const Vec3& z = frames[i].rotation.z;
    torque[i] = -(model.step[i].kind == JointKind::revolute ? dot(z, turning) : dot(z, force));
  }
  subtract_springs(model, frames, torque);
}

}  // namespace

void hang(const Model& model, const Inertia& still, const LiftingPoint& point, const Vec3& up, std::span<const double> q, const HangingRows& out) {
  const std::size_t n = model.joint_count, rows = rows_of(model, q);
  const double gravity = norm(model.gravity);
  Pose frames[max_joints];
  for (std::size_t row = 0; row < rows; ++row) {
    joint_frames<double>(model, &q[row * n], frames);
    double mass = still.mass;
    Vec3 moment = still.mass * still.centre;
    for (std::size_t i = 0; i < n; ++i) {
      mass += model.link[i].mass;
      moment = moment + model.link[i].mass * (frames[i] * model.link[i].centre);
    }
    const Vec3 at = point.frame < 0 ? point.point : frames[point.frame] * point.point;
    const Vec3 centre = (1 / mass) * moment;
    const Vec3 below = centre - at;
    const double arm = norm(below);
    store(centre, &out.centre[3 * row]);
    store(at, &out.point[3 * row]);
    double* torque = &out.torque[row * n];
    if (!(arm > no_arm)) {
      out.tilt[row] = nan;
      for (std::size_t i = 0; i < n; ++i) torque[i] = nan;
      continue;
    }
    out.tilt[row] = std::atan2(norm(cross(below, up)), -dot(below, up));
    held_hanging(model, frames, (gravity / arm) * below, mass, at, point.frame, torque);
  }
}

}  // namespace armwright
