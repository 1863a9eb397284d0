#pragma once

namespace armwright {

/// Axes count as meeting, or parallel, when the misfit is below these: wide enough for descriptions that write
/// right angles as 1.5708. Where the misfit is more than rounding, every answer is polished on the exact chain, and
/// poses near a double answer of the closed form, where one could be lost so, are given to the general method too.
inline constexpr double meeting_tolerance = 1e-5;   ///< m
inline constexpr double parallel_tolerance = 1e-5;  ///< rad

inline constexpr double near_double = 1e-5;          ///< sine of a turn below which two answers may be one
inline constexpr double near_double_inexact = 3e-2;  ///< the same where the closed form's geometry is not the chain's

}  // namespace armwright
