#include "armwright/limits/power.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/elements/mains.hpp"
#include "armwright/elements/root_mean.hpp"
#include "armwright/elements/winding.hpp"

namespace armwright {

namespace {

// What speeds up the rotor and what turns with the stages' inputs, W.
double shaft_power(const AxisDrive& drive, double speed, double acceleration) {
  double turns = 1, inertia = 0;
  for (std::size_t s = drive.stage_count; s-- > 0;) {
    turns *= drive.stage[s].ratio;
    inertia += drive.stage[s].inertia * turns * turns;
  }
  return (inertia + drive.rotor_inertia * turns * turns) * speed * acceleration;
}

void currents(const Model& model, const DrivenMotion& driven, PowerCheck& out) {
  const std::size_t n = model.joint_count;
  const std::vector<double>& time = driven.motion.time;
  for (std::size_t k = 0; k < n; ++k) {
    const double constant = model.drive.empty() ? 0 : model.drive[k].torque_constant;
    double square = 0, peak = 0;
    for (std::size_t r = 0; r < time.size(); ++r) {
      peak = std::max(peak, std::fabs(driven.motor_torque[r * n + k]));
      if (r + 1 < time.size()) square += square_integral(driven.motor_torque[r * n + k], driven.motor_torque[(r + 1) * n + k], time[r + 1] - time[r]);
    }
    const bool known = constant > 0;
    const double unknown = std::numeric_limits<double>::quiet_NaN();
    out.motor_current_rms.push_back(known ? motor_current(root_mean_square(square, driven.motion.duration()), constant) : unknown);
    out.motor_current_peak.push_back(known ? motor_current(peak, constant) : unknown);
  }
}

// A cycle that follows others: the capacitor starts as the one before left it.
BusState settled(const std::vector<double>& time, const std::vector<double>& power, double room) {
  BusState bus;
  for (int cycle = 0; cycle < 2; ++cycle) {
    BusState next;
    next.stored = next.most_stored = bus.stored;
    for (std::size_t r = 0; r + 1 < time.size(); ++r) advance_bus(next, room, power[r], power[r + 1], time[r + 1] - time[r]);
    bus = next;
  }
  return bus;
}

}  // namespace

PowerCourse power_course(const Model& model, const DrivenMotion& driven) {
  const std::size_t n = model.joint_count, count = driven.motor_torque.size();
  PowerCourse out;
  out.mechanical.resize(count);
  out.winding.resize(count);
  out.friction.resize(count);
  out.electrical.resize(driven.motion.rows());
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t k = i % n;
    const double speed = driven.motion.axis_speed[i], torque = driven.motor_torque[i];
    out.mechanical[i] = torque * driven.motor_speed[i];
    out.winding[i] = model.drive.empty() ? 0 : winding_loss(model.drive[k].winding_loss, torque);
    out.friction[i] = out.mechanical[i] - driven.axis_torque[i] * speed - shaft_power(driven.drives[k], speed, driven.motion.axis_acceleration[i]);
    out.electrical[i / n] += out.mechanical[i] + out.winding[i];
  }
  return out;
}

PowerCheck power_check(const Model& model, const DrivenMotion& driven, const PowerCourse& power, const SupplySpec& supply) {
  const std::vector<double>& time = driven.motion.time;
  const double duration = driven.motion.duration();
  PowerCheck out{};
  double square = 0, sum = 0;
  for (std::size_t r = 0; r < time.size(); ++r) {
    out.electrical_peak = std::max(out.electrical_peak, power.electrical[r]);
    out.return_peak = std::max(out.return_peak, -power.electrical[r]);
    if (r + 1 == time.size()) continue;
    const double h = time[r + 1] - time[r];
    square += square_integral(power.electrical[r], power.electrical[r + 1], h);
    sum += 0.5 * h * (power.electrical[r] + power.electrical[r + 1]);
  }
  out.electrical_rms = root_mean_square(square, duration);
  out.electrical_mean = duration > 0 ? sum / duration : 0;
  const double room = capacitor_energy(supply.capacitance, supply.rest_voltage, supply.resistor_voltage);
  const BusState& bus = out.bus = settled(time, power.electrical, room);
  out.bus_greatest_voltage = supply.capacitance > 0   ? capacitor_voltage(supply.capacitance, supply.rest_voltage, bus.most_stored)
                             : bus.burn_peak > 0 ? supply.resistor_voltage
                                                 : supply.rest_voltage;
  out.resistor_mean = duration > 0 ? bus.burnt / duration : 0;
  out.resistor_needed = bus.burn_peak > 0 ? supply.resistor_voltage * supply.resistor_voltage / bus.burn_peak : unlimited;
  const double drawn = duration > 0 ? bus.from_mains / duration : 0;
  const double squared = duration > 0 ? bus.mains_square / duration : 0, gain = 1 / supply.efficiency, rest = supply.standing_power;
  out.mains_peak = gain * bus.mains_peak + rest;
  out.mains_mean = gain * drawn + rest;
  out.mains_rms = std::sqrt(gain * gain * squared + 2 * gain * drawn * rest + rest * rest);
  out.current_peak = mains_current(out.mains_peak, supply.mains_voltage, supply.phases, supply.power_factor);
  out.current_rms = mains_current(out.mains_rms, supply.mains_voltage, supply.phases, supply.power_factor);
  out.branch_share = std::isfinite(supply.breaker_current) ? branch_share(out.current_rms, supply.breaker_current, supply.continuous) : 0;
  currents(model, driven, out);
  return out;
}

}  // namespace armwright
