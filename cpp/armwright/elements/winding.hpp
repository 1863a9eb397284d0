#pragma once

namespace armwright {

/// Copper loss of a three-phase motor by squared torque, W/(N m)²: 3 R / k², from the resistance of one phase (star), ohm,
/// and the torque constant, N m per A rms in a lead. Between two leads twice that resistance is measured.
inline double winding_loss_factor(double phase_resistance, double torque_constant) {
  return 3 * phase_resistance / (torque_constant * torque_constant);
}

/// Copper loss, W.
inline double winding_loss(double factor, double torque) { return factor * torque * torque; }

/// Current in a motor lead, A rms.
inline double motor_current(double torque, double torque_constant) { return (torque < 0 ? -torque : torque) / torque_constant; }

}  // namespace armwright
