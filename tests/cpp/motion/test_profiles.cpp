#include <cmath>
#include <limits>
#include <vector>

#include "armwright/motion/profile_jerk.hpp"
#include "armwright/motion/profile_trapezoid.hpp"
#include "armwright/motion/synchronised.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double none = std::numeric_limits<double>::infinity();

// Position and speed are the sums of acceleration, by a fine rule that shares nothing with the closed forms.
void check_sums(const Profile& p, double speed, double acceleration, double jerk) {
  const int steps = 40000;
  const double h = p.duration() / steps;
  double v = 0, s = 0;
  for (int i = 0; i < steps; ++i) {
    const ProfileState mid = state_at(p, (i + 0.5) * h);
    s += h * v + 0.5 * h * h * mid.acceleration;
    v += h * mid.acceleration;
    CHECK(std::fabs(mid.speed) <= speed * (1 + 1e-9));
    CHECK(std::fabs(mid.acceleration) <= acceleration * (1 + 1e-9));
    CHECK(std::fabs(mid.jerk) <= jerk * (1 + 1e-9));
    if (i % 997 == 0) {
      const ProfileState end = state_at(p, (i + 1) * h);
      CHECK(end.speed == Approx(v).margin(2e-4 * p.speed));
      CHECK(end.position == Approx(s).margin(2e-4 * p.distance));
    }
  }
  CHECK(s == Approx(p.distance).epsilon(1e-4));
  CHECK(v == Approx(0).margin(1e-3 * p.speed));
}

}  // namespace

TEST_CASE("trapezoid: d/v + v/a, and 2 sqrt(d/a) where the speed is not reached") {
  CHECK(trapezoid(1, 1, 2).duration() == Approx(1.5).epsilon(1e-14));
  const Profile low = trapezoid(0.3, 1, 2);
  CHECK(low.duration() == Approx(2 * std::sqrt(0.3 / 2)).epsilon(1e-14));
  CHECK(low.speed == Approx(std::sqrt(0.6)).epsilon(1e-14));
  CHECK(low.cruise == 0);
  CHECK(trapezoid(0.3, none, 2).duration() == low.duration());
  CHECK(trapezoid(0, 1, 2).duration() == 0);
}

// L. Biagiotti, C. Melchiorri, "Trajectory Planning for Automatic Machines and Robots", 2008, section 3.4: example with
// d = 10, v = 5, a = 10, j = 30 (printed values from memory; the same by the formulas).
TEST_CASE("double S: the book's example and its four cases") {
  const Profile p = double_s(10, 5, 10, 30);
  CHECK(p.ramp == Approx(1 / 3.0).epsilon(1e-14));
  CHECK(p.accelerating == Approx(5 / 6.0).epsilon(1e-14));
  CHECK(p.cruise == Approx(7 / 6.0).epsilon(1e-14));
  CHECK(p.duration() == Approx(17 / 6.0).epsilon(1e-14));
  CHECK(double_s(1, 1, 2, 10).duration() == Approx(1.7).epsilon(1e-14));
  CHECK(double_s(0, 1, 2, 10).duration() == 0);
  CHECK(double_s(1, 1, 2, none).duration() == Approx(trapezoid(1, 1, 2).duration()).epsilon(1e-14));
  CHECK(double_s(2, none, none, 3).duration() == Approx(4 * std::cbrt(2 / 6.0)).epsilon(1e-14));
  CHECK(double_s(50, 0.1, 10, 1).duration() == Approx(500 + 2 * std::sqrt(0.1)).epsilon(1e-14));  // acceleration not reached
  CHECK(double_s(4, none, 2, 10).accelerating == Approx(0.1 + std::sqrt(0.01 + 2)).epsilon(1e-14));
}

TEST_CASE("profiles: position and speed are the sums of acceleration, limits are kept, the middle is half-way") {
  const double cases[][4] = {{1, 1, 2, 10}, {0.3, 1, 2, 10}, {10, 5, 10, 30}, {0.01, 5, 10, 30}, {0.1, 0.1, 1, 3}, {4, none, 2, 10}};
  for (const auto& [d, v, a, j] : cases) {
    for (const Profile& p : {double_s(d, v, a, j), trapezoid(d, v, a)}) {
      check_sums(p, v, a, j);
      const double all = p.duration();
      CHECK(state_at(p, 0.5 * all).position == Approx(0.5 * d).epsilon(1e-13));
      CHECK(state_at(p, all).position == d);
      CHECK(state_at(p, 0, Side::before).acceleration == 0);
      for (const double share : {0.01, 0.2, 0.5, 0.77, 0.999}) {
        CHECK(state_at(p, time_at(p, share * d)).position == Approx(share * d).epsilon(1e-13));
      }
    }
  }
}

TEST_CASE("a stretched profile is the same one slowed") {
  const Profile p = double_s(0.7, 1, 2, 10), slow = stretched(p, 3 * p.duration());
  for (const double share : {0.05, 0.3, 0.5, 0.81}) {
    const ProfileState a = state_at(p, share * p.duration()), b = state_at(slow, share * slow.duration());
    CHECK(b.position == Approx(a.position).epsilon(1e-13));
    CHECK(b.speed == Approx(a.speed / 3).epsilon(1e-13));
    CHECK(b.acceleration == Approx(a.acceleration / 9).margin(1e-13));
    CHECK(b.jerk == Approx(a.jerk / 27).epsilon(1e-13));
  }
  CHECK(stretched(p, 0.1).duration() == p.duration());
}

TEST_CASE("phases: seven, or fewer where some do not occur") {
  double times[8];
  CHECK(phase_times(double_s(10, 5, 10, 30), times) == 8);
  CHECK(times[7] == Approx(17 / 6.0));
  CHECK(phase_times(trapezoid(1, 1, 2), times) == 4);
  CHECK(phase_times(trapezoid(0.3, 1, 2), times) == 3);
  CHECK(phase_times(double_s(0.01, 5, 10, 30), times) == 5);
}

TEST_CASE("joints in step: the slowest decides and is named") {
  const std::vector<double> from{0, 1, -1}, to{1, 0.5, -1}, v{1, 1, 0.001}, a{2, 0.5, 0.001}, j{10, 50, 0.001};
  Synchronised s = synchronised(from, to, v, a, {});
  CHECK(s.share.duration() == Approx(trapezoid(1, 1, 1).duration()));  // axis 2: 0.5 rad at 0.5 rad/s²: a share of 1 /s²
  CHECK(s.limit == MotionLimit::joint_acceleration);
  CHECK(s.axis == 1);
  s = synchronised(from, to, v, a, j);
  CHECK(s.share.duration() == Approx(double_s(1, 1, 1, 10).duration()));
  const std::vector<double> far{100, 0.5, -1};
  s = synchronised(from, far, v, a, {});
  CHECK(s.limit == MotionLimit::joint_speed);
  CHECK(s.axis == 0);
  CHECK(synchronised(from, from, v, a, j).share.duration() == 0);
  const std::vector<double> open(3, none);
  CHECK_FALSE(synchronised(from, to, v, open, {}).bounded);
}

TEST_CASE("at the edge of a phase the state is that of the side asked for, however the times were rounded") {
  Draw draw{8};
  for (int k = 0; k < 500; ++k) {
    const double d = draw.uniform(0.1, 5), v = draw.uniform(0.1, 3), a = draw.uniform(0.5, 5), j = draw.uniform(1, 50);
    for (const Profile& p : {double_s(d, v, a, j), trapezoid(d, v, a)}) {
      double times[8];
      const std::size_t count = phase_times(p, times);
      for (std::size_t i = 0; i < count; ++i) {
        const double near = 1e-9 * p.duration();
        if (i > 0) CHECK(state_at(p, times[i], Side::before).acceleration == Approx(state_at(p, times[i] - near).acceleration).margin(1e-5));
        if (i > 0) CHECK(state_at(p, times[i], Side::before).jerk == state_at(p, times[i] - near).jerk);
        if (i + 1 < count) CHECK(state_at(p, times[i], Side::after).acceleration == Approx(state_at(p, times[i] + near).acceleration).margin(1e-5));
        if (i + 1 < count) CHECK(state_at(p, times[i], Side::after).jerk == state_at(p, times[i] + near).jerk);
      }
    }
  }
}
