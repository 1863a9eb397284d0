#pragma once

#include <cstddef>

namespace armwright {

/// From rest to rest over a distance along one axis, symmetrical: acceleration rises evenly for `ramp`, stays, falls for
/// `ramp`, the speed is kept for `cruise`, then the same backwards. Seven phases; those that do not occur last no time.
/// Units: those of the distance (m, rad or a share of a path) and s.
struct Profile {
  double distance = 0;      ///< not negative
  double ramp = 0;          ///< how long the acceleration rises, s; 0: at once (a trapezoid)
  double accelerating = 0;  ///< from rest to the greatest speed, both ramps with it, s
  double cruise = 0;        ///< s
  double speed = 0, acceleration = 0;  ///< greatest reached
  double jerk = 0;          ///< while the acceleration rises; 0 for a trapezoid
  double duration() const { return 2 * accelerating + cruise; }
};

/// Where the profile is at a time.
struct ProfileState {
  double position, speed, acceleration, jerk;
};

/// Which value counts where acceleration or jerk jump: just before that time or just after.
enum class Side : bool { before, after };

/// The state at `time` (s from the start; earlier is the start, later the end).
ProfileState state_at(const Profile& profile, double time, Side side = Side::after);

/// The time at which the profile is at `position`, s; by bracketed Newton steps to rounding.
double time_at(const Profile& profile, double position);

/// The same shape over `duration` (s), not shorter than its own: speed falls by the stretch k, acceleration by k², jerk by k³.
Profile stretched(const Profile& profile, double duration);

/// The times between phases, from 0 to the duration, in order, without those of phases that do not occur. Returns how
/// many; at most 8.
std::size_t phase_times(const Profile& profile, double* times);

}  // namespace armwright
