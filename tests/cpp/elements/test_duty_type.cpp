#include "armwright/elements/duty_type.hpp"

#include <vector>

#include "catch_shim.hpp"

using namespace armwright;

namespace {

DutySpan even(double time, double torque, double speed) { return {time, torque, torque, speed, speed}; }
DutySpan from_to(double time, double torque, double a, double b) { return {time, torque, torque, a, b}; }

DutyType type_of(std::vector<DutySpan> history, bool repeated = true) { return duty_of(history, repeated).type; }

}  // namespace

// What each type means: IEC 60034-1, from memory.
TEST_CASE("duty types of a cycle") {
  CHECK(type_of({even(10, 2, 100)}) == DutyType::s1);
  CHECK(type_of({even(10, 2, 100), even(100, 0, 0)}, false) == DutyType::s2);
  CHECK(type_of({from_to(0.01, 2, 0, 100), even(10, 2, 100), even(5, 0, 0)}) == DutyType::s3);
  CHECK(type_of({from_to(1, 6, 0, 100), even(3, 2, 100), from_to(1, 0, 100, 0), even(5, 0, 0)}) == DutyType::s4);
  CHECK(type_of({from_to(1, 6, 0, 100), even(3, 2, 100), from_to(1, -5, 100, 0), even(5, 0, 0)}) == DutyType::s5);
  CHECK(type_of({even(4, 3, 100), even(6, 0.2, 100)}) == DutyType::s6);
  CHECK(type_of({from_to(1, 6, 0, 100), even(3, 2, 100), from_to(1, -5, 100, 0)}) == DutyType::s7);
  CHECK(type_of({even(4, 3, 100), from_to(1, 5, 100, 200), even(3, 1, 200), from_to(1, -4, 200, 100)}) == DutyType::s8);
  CHECK(type_of({from_to(1, 6, 0, 100), even(3, 2, 100), from_to(1, -5, 100, 0), even(5, 3, 0)}) == DutyType::s8);  // holds a weight
}

TEST_CASE("duration factor and root mean squares") {
  const std::vector<DutySpan> history{from_to(0.2, 3.0106930, 0, 392.699), even(0.2, 0, 392.699), from_to(0.2, -2.5132741, 392.699, 0), even(0.6, 0, 0)};
  const Duty duty = duty_of(history, true);
  CHECK(duty.duration_factor == Approx(0.5));
  CHECK(duty.rms_torque == Approx(1.6010840).epsilon(1e-7));
  CHECK(duty.mean_speed == Approx(392.699 * 0.4 / 1.2));
  CHECK(duty.rms_speed == Approx(392.699 * std::sqrt((0.2 + 2 * 0.2 / 3) / 1.2)));
  CHECK(duty.greatest_speed == 392.699);
}
