#include <algorithm>
#include <cmath>

#include "armwright/limits/speed_payload.hpp"
#include "armwright/limits/speed_payload_ways.hpp"
#include "armwright/motion/drive_torques.hpp"

namespace armwright {

namespace {

// A limit `most` on a torque along the drive, which an axis torque and acceleration of 1 make `by_torque` and `by_acceleration`.
void add_limit(double most, double by_torque, double by_acceleration, std::int8_t part, AxisAtRest& axis) {
  if (most == unlimited) return;
  axis.limit[axis.count++] = {most / std::fabs(by_torque), by_acceleration / by_torque, part};
}

// Every choice of signs of the speeds of the joints that move; of a choice and its reverse only one.
std::vector<double> sign_patterns(const Model& model, const std::array<double, max_joints>& speed) {
  std::vector<std::size_t> turning;
  for (std::size_t i = 0; i < model.joint_count; ++i)
    if (speed[i] > 0) turning.push_back(i);
  const std::size_t n = model.joint_count, count = turning.empty() ? 0 : std::size_t{1} << (turning.size() - 1);
  std::vector<double> patterns(count * n, 0.0);
  for (std::size_t p = 0; p < count; ++p)
    for (std::size_t t = 0; t < turning.size(); ++t) patterns[p * n + turning[t]] = (p >> t & 1) ? -speed[turning[t]] : speed[turning[t]];
  return patterns;
}

// Axis accelerations at their greatest, for joint accelerations of any signs.
std::array<double, max_joints> axis_accelerations(const Model& model, const std::array<double, max_joints>& joint) {
  std::array<double, max_joints> axis = joint;
  if (model.coupling.none()) return axis;
  for (std::size_t k = 0; k < model.joint_count; ++k) {
    axis[k] = 0;
    for (std::size_t j = 0; j < model.joint_count; ++j) axis[k] += std::fabs(model.coupling.inverse[k * model.joint_count + j]) * joint[j];
  }
  return axis;
}

// Of speeds that cancel, nothing but rounding is left.
double cleared(double speed, double greatest) { return std::fabs(speed) <= 1e-12 * greatest ? 0 : speed; }

void find_intervals(MovingSetup& setup) {
  const Model& model = *setup.model;
  const std::size_t n = model.joint_count, count = setup.patterns.size() / n;
  const auto greatest = axis_accelerations(model, setup.demand.joint_speed);
  const auto acceleration = axis_accelerations(model, setup.demand.joint_acceleration);
  setup.within.resize(2 * count * n);
  for (std::size_t p = 0; p < count; ++p) {
    double axis[max_joints];
    axis_motion(model, setup.patterns.data() + p * n, axis);
    for (std::size_t k = 0; k < n; ++k)
      for (const int reverse : {0, 1}) {
        const double speed = (reverse ? -1 : 1) * cleared(axis[k], greatest[k]);
        const TorqueInterval up = axis_torque_interval(setup.drives[k], speed, acceleration[k], speed, DriveLimit::repeated_peak);
        const TorqueInterval down = axis_torque_interval(setup.drives[k], speed, -acceleration[k], speed, DriveLimit::repeated_peak);
        setup.within[(2 * p + static_cast<std::size_t>(reverse)) * n + k] = {down.least, up.greatest, down.least_part, up.greatest_part};
      }
  }
}

}  // namespace

AxisAtRest axis_at_rest(const AxisDrive& drive) {
  AxisAtRest axis;
  const auto by_torque = drive_state(drive, 1.0, 0.0, 0.0, 0.0), by_acceleration = drive_state(drive, 0.0, 0.0, 1.0, 0.0);
  add_limit(drive.stated_peak, 1, 0, part_stated, axis);
  for (std::size_t s = drive.stage_count; s-- > 0;)
    add_limit(drive.stage[s].repeated_peak_torque, by_torque.stage_torque[s], by_acceleration.stage_torque[s], static_cast<std::int8_t>(s), axis);
  add_limit(curve_torque(drive.peak, 0), by_torque.motor_torque, by_acceleration.motor_torque, part_motor, axis);
  return axis;
}

MovingSetup prepare_moving(std::shared_ptr<const Model> model, const Inertia& unit_load, const MotionDemand& demand) {
  MovingSetup setup;
  const std::size_t n = model->joint_count;
  setup.load_only = *model;
  setup.load_only.link.fill(Inertia{});
  setup.unit_load = model->tool * unit_load;
  setup.demand = demand;
  setup.drives = axis_drives(*model);
  setup.rotors = reflected_inertia(*model);
  for (std::size_t i = 0; i < n; ++i) {
    setup.at_rest.push_back(axis_at_rest(setup.drives[i]));
    if (model->upper[i] > model->lower[i]) {
      setup.moving.push_back(i);
    } else {
      setup.demand.joint_acceleration[i] = setup.demand.joint_speed[i] = 0;
    }
    setup.asks_joints = setup.asks_joints || setup.demand.joint_acceleration[i] > 0;
    setup.asks_speed = setup.asks_speed || setup.demand.joint_speed[i] > 0;
  }
  setup.asks_tool = demand.tool_acceleration > 0 || demand.turn_acceleration > 0;
  if (setup.asks_tool) {
    const ToolFreedoms freedoms = tool_freedoms(*model, setup.moving);
    setup.all_freedoms = freedoms.all == 6;
    setup.translations = freedoms.translations;
    setup.shares = {setup.moving};
    if (model->has_track && !setup.moving.empty() && setup.moving.front() == 0) {
      const std::vector<std::size_t> standing(setup.moving.begin() + 1, setup.moving.end());
      const ToolFreedoms left = tool_freedoms(*model, standing);
      if (left.all == freedoms.all && left.translations == freedoms.translations) setup.shares.push_back(standing);
    }
  }
  setup.model = std::move(model);
  if (!setup.asks_speed) return setup;
  setup.patterns = sign_patterns(*setup.model, setup.demand.joint_speed);
  find_intervals(setup);
  if (const SpeedShare most = greatest_speed_share(setup); most.share < 1)
    setup.too_fast = {0, most.axis, most.part, most.part == part_motor ? MovingLimit::motor_speed : MovingLimit::stage_speed, Demand::joint_speed, false};
  return setup;
}

std::string part_name(const Model& model, std::size_t axis, std::int8_t part) {
  if (part == part_stated) return "stated";
  if (part == part_none || model.drive.empty() || !model.drive[axis].present) return "";
  return part == part_motor ? model.drive[axis].motor_name : model.drive[axis].stage[static_cast<std::size_t>(part)].name;
}

SpeedShare greatest_speed_share(const MovingSetup& setup) {
  SpeedShare least{1, -1, part_none};
  const auto asked = axis_accelerations(*setup.model, setup.demand.joint_speed);  // speeds add up in the same way
  for (std::size_t k = 0; k < setup.model->joint_count; ++k) {
    const auto [speed, part] = greatest_axis_speed(setup.drives[k]);
    // A motor asked for exactly its greatest speed is not asked for too much.
    if (asked[k] * least.share > speed * (1 + 1e-9)) least = {speed / asked[k], static_cast<std::int32_t>(k), part};
  }
  return least;
}

}  // namespace armwright
