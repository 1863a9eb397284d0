#pragma once

#include <cmath>

namespace armwright {

/// Energy that a capacitor (F) takes from one voltage up to another, J.
inline double capacitor_energy(double capacitance, double from, double to) { return 0.5 * capacitance * (to * to - from * from); }

/// Voltage of a capacitor charged further by an energy, V.
inline double capacitor_voltage(double capacitance, double from, double energy) { return std::sqrt(from * from + 2 * energy / capacitance); }

/// Energy of what turns (kg m², rad/s) or moves (kg, m/s), J.
inline double kinetic_energy(double inertia, double speed) { return 0.5 * inertia * speed * speed; }

/// What a supply with one bus capacitor and a brake resistor does with the sum of all axes' power. The rectifier holds the bus at
/// its rest voltage and takes nothing back; the capacitor takes what returns until it reaches the voltage at which the resistor
/// is switched on; that burns the rest. Losses of the electronics are not in it.
struct BusState {
  double stored = 0;                                              ///< J above the rest voltage
  double from_mains = 0, mains_peak = 0, mains_square = 0;        ///< J, W, W² s
  double returned = 0;                                            ///< J that came back to the bus
  double burnt = 0, burn_peak = 0, burn_time = 0;                 ///< J, W, s in the resistor
  double most_stored = 0;                                         ///< J
};

/// Goes on through a time in which the power drawn goes straight from one value to another, W; negative: it returns.
/// `room`: what the capacitor takes between the two voltages, J.
void advance_bus(BusState& bus, double room, double power_from, double power_to, double time);

}  // namespace armwright
