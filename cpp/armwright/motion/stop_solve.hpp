#pragma once

#include <array>

#include "armwright/motion/stop_axis.hpp"

namespace armwright {

/// On which side of its kink an axis accelerates.
enum class AxisMode : std::int8_t { pinned, above, below };

using AxisNumbers = std::array<double, max_joints>;

/// Accelerations of all axes at once: M x + bias = push of every axis, each by its law. M (row-major n × n, of the links
/// alone) is positive and every push falls with its own acceleration, so that there is one answer: the lowest point of
/// a convex function. Newton's method on the bends, and modes set right until all agree. `x` and `mode`: guesses
/// in, answers out (without a kink: below). `held`: M x + bias of each axis, N m. `slack`: rounding in
/// torques, N m, by which a kink's bounds may be passed. Returns -1, or an axis without inertia.
int accelerations(std::size_t n, const double* M, const double* bias, const StopAxis* axes, const AxisLaw* laws, double slack,
                  double* x, AxisMode* mode, double* held);

}  // namespace armwright
