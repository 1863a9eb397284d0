#pragma once

#include "armwright/support/lanes.hpp"

namespace armwright {

/// A stage's two slopes from output torque to input torque: 1/(N·eta) while the input drives the output, eta_back/N while the
/// output drives the input. N with its sign. Textbook balance of power with losses taken from whichever side gives.
struct StageGains {
  double driving, back;
};

inline StageGains stage_gains(double ratio, double efficiency, double efficiency_back) {
  return {1 / (ratio * efficiency), efficiency_back / ratio};
}

/// Torque at a stage's input, without its inertia, from the torque at its output. `direction`: any number with the sign
/// of the output's speed; 0 at rest, where the stage must be able to start and the driving slope counts. In the
/// direction of motion this is convex, rising, and bends at no torque only.
template <class T>
ARMWRIGHT_INLINE T stage_input_torque(const StageGains& gains, T output_torque, T direction) {
  return output_torque * select(output_torque * direction < T(0.0), T(gains.back), T(gains.driving));
}

/// The inverse: torque at the output that goes with a torque at the input (without the stage's inertia).
template <class T>
ARMWRIGHT_INLINE T stage_output_torque(const StageGains& gains, T input_torque, T direction) {
  const double sign = gains.driving < 0 ? -1.0 : 1.0;  // the input turns the other way round
  return input_torque * select(input_torque * (direction * T(sign)) < T(0.0), T(1 / gains.back), T(1 / gains.driving));
}

}  // namespace armwright
