#pragma once

namespace armwright {

/// Axes count as meeting, or parallel, when the misfit is below these: wide enough for descriptions that write
/// right angles as 1.5708. Where the misfit is more than rounding, every answer is polished on the exact chain, and
/// poses near a double answer of the closed form, where one could be lost so, are given to the general method too.
inline constexpr double meeting_tolerance = 1e-5;   ///< m
inline constexpr double parallel_tolerance = 1e-5;  ///< rad

/// Sine of a turn below which two answers may be one; where the closed form's geometry is not the chain's, at least
/// this times the square root of the misfit.
inline constexpr double near_double = 1e-5;
inline constexpr double near_double_by_root = 15;
/// The same for a wrist centre near axis 1 or 2: within this times the misfit (m per m).
inline constexpr double near_axis_by_misfit = 300;

/// Misfit of a closed form's branch up to which it is polished, m and rad; beyond, the branch is not an answer.
inline constexpr double worth_polishing_roots = 1e-3;    ///< from roots of a polynomial
inline constexpr double worth_polishing_exact = 1e-7;    ///< from square roots alone
inline constexpr double worth_polishing_by_misfit = 30;  ///< on inexact geometry, times its misfit

}  // namespace armwright
