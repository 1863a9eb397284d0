#pragma once

#include "armwright/elements/bus.hpp"
#include "armwright/limits/driven_motion.hpp"

namespace armwright {

/// Power through a cycle, W. Rows × joint_count but `electrical`, which is the sum of all axes at once, a row each.
struct PowerCourse {
  std::vector<double> mechanical;  ///< at the motor's shaft; of the axis where no drive is described
  std::vector<double> winding;     ///< copper loss
  std::vector<double> friction;    ///< lost between the motor's shaft and the axis: friction and stages; part of `mechanical`
  std::vector<double> electrical;  ///< mechanical + winding, summed; negative: it returns
};

PowerCourse power_course(const Model& model, const DrivenMotion& driven);

/// One supply for all drives: a rectifier, one bus capacitor, one brake resistor.
struct SupplySpec {
  double mains_voltage = 230;        ///< V rms; between lines where there are three phases
  int phases = 1;
  double power_factor = 1;
  double efficiency = 1;             ///< of rectifier and drives' electronics, mains to bus
  double standing_power = 0;         ///< of electronics and brakes' coils, W at the mains, all the time
  double rest_voltage = 325;         ///< of the bus, V
  double resistor_voltage = 390;     ///< at which the brake resistor is switched on, V
  double capacitance = 0;            ///< of the bus, F
  double resistor_power = unlimited; ///< the resistor's own rating, mean W
  double resistance = 0;             ///< ohm; 0: not told
  double breaker_current = unlimited;///< of the branch circuit, A
  bool continuous = true;            ///< three hours or more: 80 % of the breaker's current counts
};

struct PowerCheck {
  double electrical_peak, electrical_rms, electrical_mean;   ///< of the sum over all axes at the bus, W; mean of what is drawn less what returns
  double return_peak;                                        ///< greatest power that returns, W
  BusState bus;                                              ///< over one cycle that follows others
  double bus_greatest_voltage;                               ///< V
  double resistor_mean;                                      ///< W over the cycle
  double resistor_needed;                                    ///< the most ohms that take the peak at resistor_voltage; infinite where nothing is burnt
  double mains_peak, mains_mean, mains_rms;                  ///< W at the mains
  double current_peak, current_rms;                          ///< A in a line
  double branch_share;                                       ///< of what the branch circuit allows, by the root mean square; 0 where unlimited
  std::vector<double> motor_current_rms, motor_current_peak; ///< A in a motor lead, an axis each; NaN without a torque constant
};

PowerCheck power_check(const Model& model, const DrivenMotion& driven, const PowerCourse& power, const SupplySpec& supply);

}  // namespace armwright
