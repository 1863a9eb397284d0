#pragma once

#include <cstdint>
#include <span>

namespace armwright {

/// A time in which a motor's torque and speed go straight from one value to another.
struct DutySpan {
  double time, torque_from, torque_to, speed_from, speed_to;  ///< s, N m, rad/s
};

/// Duty types of IEC 60034-1 (their meaning from memory).
enum class DutyType : std::int8_t {
  s1,  ///< continuous running at constant load
  s2,  ///< short time, then rest until cold
  s3,  ///< intermittent periodic: load and rest, starts do not matter
  s4,  ///< the same with starts that matter
  s5,  ///< and electric braking too
  s6,  ///< continuous periodic: load and no load, no rest
  s7,  ///< continuous periodic with starts and electric braking, no rest
  s8   ///< continuous periodic with related changes of load and speed
};

struct Duty {
  DutyType type;
  double duration_factor;  ///< cyclic duration factor: share of the time in which it is not at rest
  double rms_torque, rms_speed, mean_speed, greatest_speed;  ///< N m, rad/s
};

/// The type that a history comes nearest to, as far as one cycle can tell. Rest: no speed and no more torque than 5 % of the
/// greatest; standing under load is not rest but running at no speed. Starts and braking matter where they make 5 % of the sum
/// of squared torque. `repeated`: whether the cycle goes on; a single one that rests is short-time duty.
Duty duty_of(std::span<const DutySpan> history, bool repeated);

}  // namespace armwright
