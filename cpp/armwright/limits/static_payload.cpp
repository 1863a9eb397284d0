#include "armwright/limits/static_payload.hpp"

#include "armwright/limits/payload_of.hpp"

namespace armwright {

namespace {

ARMWRIGHT_INLINE void torques_of_four(const Model& model, const Vec3& centre, const double* const* rows, double* own, double* unit) {
  const std::size_t n = model.joint_count;
  Pose3<Lanes> frames[max_joints];
  Pose3<Lanes> frame = spread<Lanes>(model.base);
  for (std::size_t i = 0; i < n; ++i) {
    Lanes angle;
    for (std::size_t k = 0; k < Lanes::width; ++k) angle.set(k, rows[k][i]);
    advance(model.step[i], angle, frame);
    frames[i] = frame;
  }
  Lanes torque[max_joints], per_kilogram[max_joints];
  holding_torques(model, centre, frames, torque, per_kilogram);
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t k = 0; k < Lanes::width; ++k) {
      own[k * max_joints + i] = torque[i][k];
      unit[k * max_joints + i] = per_kilogram[i][k];
    }
}

}  // namespace

ARMWRIGHT_BATCH void static_payloads(const Model& model, const Vec3& centre, Limit limit, std::span<const double> q,
                                     std::span<StaticPayload> out, std::span<double> by_joint) {
  const std::size_t n = model.joint_count, count = rows_of(model, q);
  double own[Lanes::width * max_joints], unit[Lanes::width * max_joints];
  for (std::size_t row = 0; row < count; row += Lanes::width) {
    const double* rows[Lanes::width];
    for (std::size_t k = 0; k < Lanes::width; ++k) rows[k] = q.data() + (row + k < count ? row + k : count - 1) * n;
    torques_of_four(model, centre, rows, own, unit);
    for (std::size_t k = 0; k < Lanes::width && row + k < count; ++k)
      out[row + k] = payload_of(model, limit, own + k * max_joints, unit + k * max_joints,
                                by_joint.empty() ? nullptr : by_joint.data() + (row + k) * n);
  }
}

}  // namespace armwright
