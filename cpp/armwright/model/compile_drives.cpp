#include "armwright/model/compile_drives.hpp"

#include <Eigen/LU>
#include <cmath>

#include "armwright/model/check_drive.hpp"

namespace armwright {

namespace {

TorqueSpeedCurve curve_of(const std::vector<CurvePoint>& points) {
  TorqueSpeedCurve curve;
  curve.count = points.size();
  for (std::size_t i = 0; i < points.size(); ++i) curve.speed[i] = points[i].speed, curve.torque[i] = points[i].torque;
  return curve;
}

Drive drive_of(const DriveSpec& spec) {
  Drive drive;
  drive.present = true;
  drive.motor_name = spec.motor.name;
  drive.continuous = curve_of(spec.motor.continuous);
  drive.peak = curve_of(spec.motor.peak);
  drive.rotor_inertia = spec.motor.rotor_inertia;
  drive.winding_loss = spec.motor.winding_loss;
  drive.torque_constant = spec.motor.torque_constant;
  drive.encoder_counts = spec.motor.encoder_counts;
  drive.stage_count = spec.stages.size();
  drive.inertia = drive.rotor_inertia;
  for (std::size_t s = 0; s < spec.stages.size(); ++s) {
    const StageSpec& stage = drive.stage[s] = spec.stages[s];
    drive.inertia += stage.inertia / (drive.ratio * drive.ratio);
    drive.ratio *= stage.ratio;
    drive.efficiency *= stage.efficiency;
    drive.efficiency_back *= stage.efficiency_back;
  }
  drive.has_brake = spec.brake.has_value();
  if (spec.brake) drive.brake = *spec.brake;
  drive.motor_friction = spec.motor_friction;
  drive.joint_friction = spec.joint_friction;
  return drive;
}

// The least of what has been told so far and what its part stands for.
void take_least(double torque, const std::string& part, double& least, std::string& name) {
  if (torque < least) least = torque, name = part;
}

void hold_at_rest(const JointSpec& joint, const Drive& drive, std::size_t axis, Model& model) {
  double &lasting = model.torque_continuous[axis], &peak = model.torque_peak[axis];
  lasting = model.stated_continuous[axis] = joint.torque_continuous;
  peak = model.stated_peak[axis] = joint.torque_peak;
  model.continuous_part[axis] = std::isfinite(lasting) ? "stated" : "";
  model.peak_part[axis] = std::isfinite(peak) ? "stated" : "";
  if (!drive.present) return;
  double gain = 1;  // from the output of stage s to the axis
  for (std::size_t s = drive.stage_count; s-- > 0;) {
    const StageSpec& stage = drive.stage[s];
    take_least(stage.rated_torque * gain, stage.name, lasting, model.continuous_part[axis]);
    take_least(stage.repeated_peak_torque * gain, stage.name, peak, model.peak_part[axis]);
    gain *= std::fabs(stage.ratio) * stage.efficiency;
  }
  take_least(drive.continuous.torque[0] * gain, joint.drive->motor.name, lasting, model.continuous_part[axis]);
  take_least(drive.peak.torque[0] * gain, joint.drive->motor.name, peak, model.peak_part[axis]);
}

Coupling coupling_of(const std::vector<double>& matrix, bool has_track) {
  Coupling coupling;
  if (matrix.empty()) return coupling;
  const auto of_arm = static_cast<Eigen::Index>(std::lround(std::sqrt(static_cast<double>(matrix.size()))));
  const Eigen::Index first = has_track ? 1 : 0, n = of_arm + first;
  using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  Matrix C = Matrix::Identity(n, n);
  C.bottomRightCorner(of_arm, of_arm) = Eigen::Map<const Matrix>(matrix.data(), of_arm, of_arm);
  const Matrix back = C.inverse();
  coupling.matrix.assign(C.data(), C.data() + C.size());
  coupling.inverse.assign(back.data(), back.data() + back.size());
  return coupling;
}

Spring spring_of(const SpringSpec& spec, const CellSpec& cell, const Model& model) {
  Spring spring;
  spring.name = spec.name;
  const int first = model.has_track ? 1 : 0;
  const auto place = [&](int link, const Vec3& point, int& frame, Vec3& at) {
    frame = link < 0 ? first - 1 : link + first;
    const Pose in_link = link < 0 ? cell.mount : identity_pose;  // the base stands in the world, or on the carriage
    at = frame < 0 ? in_link * point : model.link_frame[static_cast<std::size_t>(frame)] * (in_link * point);
  };
  place(spec.link_a, spec.point_a, spring.frame_a, spring.a);
  place(spec.link_b, spec.point_b, spring.frame_b, spring.b);
  spring.length = spec.length;
  spring.pull = spec.pull;
  spring.rate = spec.rate;
  spring.pulls_only = spec.pulls_only;
  spring.shortest = spec.shortest;
  spring.longest = spec.longest;
  return spring;
}

}  // namespace

void compile_drives(const CellSpec& cell, const std::vector<JointSpec>& joints, Model& model) {
  const std::size_t n = joints.size();
  bool any = false;
  for (const JointSpec& joint : joints) any = any || joint.drive;
  std::vector<Drive> drives(n);
  for (std::size_t i = 0; i < n; ++i) {
    if (joints[i].drive) {
      check_drive("drive of '" + joints[i].name + "'", *joints[i].drive);
      drives[i] = drive_of(*joints[i].drive);
    }
    hold_at_rest(joints[i], drives[i], i, model);
  }
  if (any) model.drive = std::move(drives);
  if (!cell.arm.coupling.empty()) check_coupling(cell.arm.coupling, cell.arm.joints.size());
  model.coupling = coupling_of(cell.arm.coupling, model.has_track);
  for (const SpringSpec& spring : cell.arm.springs) {
    check_spring("spring '" + spring.name + "'", spring, static_cast<int>(cell.arm.links.size()));
    model.springs.push_back(spring_of(spring, cell, model));
  }
}

}  // namespace armwright
