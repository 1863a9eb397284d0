#include "armwright/motion/smoothed.hpp"

#include <cmath>

#include "armwright/motion/profile_jerk.hpp"
#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// One joint over 1 rad: 1 rad/s, 2 rad/s², as a trapezoid with its four rows and s̈ constant between, told by s = q.
struct Case {
  Model model;
  ChainPath chain;
  ChainMotion motion;

  explicit Case(double jerk) {
    CellSpec cell = bar(1, 0, false);
    set_limits(cell, 1, 2, jerk);
    model = compile(cell);
    Leg leg;
    leg.to = {1};
    const std::vector<double> from{0};
    REQUIRE(build_chain(model, nullptr, from, std::vector<Leg>{leg}, {}, chain).good());
    const auto row = [&](double time, double s, double rate, double u) {
      motion.time.push_back(time), motion.x.push_back(rate * rate), motion.u.push_back(u), motion.limit.push_back({});
      motion.path.s.push_back(s), motion.path.q.push_back(s), motion.path.first.push_back(1), motion.path.second.push_back(0), motion.path.move.push_back(0);
    };
    motion.path.joint_count = 1;
    row(0, 0, 0, 2), row(0.5, 0.25, 1, 2), row(0.5, 0.25, 1, 0), row(1, 0.75, 1, 0), row(1, 0.75, 1, -2), row(1.5, 1, 0, -2);
    motion.duration = 1.5;
  }
};

}  // namespace

// A double S is a trapezoid smoothed over the time in which its acceleration rises (textbook: box functions convolved).
TEST_CASE("a trapezoid smoothed over a / j is the double S") {
  const Case c(10);
  const CycleSpec cycle = cycle_of({0}, {to_joints({1})});
  ChainMotion smooth;
  REQUIRE(smoothed_motion(c.model, nullptr, c.chain, c.motion, 0.2, smooth).good());
  const Profile p = double_s(1, 1, 2, 10);
  CHECK(smooth.duration == Approx(p.duration()));
  REQUIRE(smooth.time.size() >= 8);
  for (std::size_t row = 0; row < smooth.time.size(); ++row) {
    const ProfileState state = state_at(p, smooth.time[row]);
    CHECK(smooth.path.q[row] == Approx(state.position).margin(1e-12));
    CHECK(std::sqrt(smooth.x[row]) == Approx(state.speed).margin(1e-12));
    CHECK(smooth.u[row] == Approx(state.acceleration).margin(1e-12));
  }
  NamedLimit why;
  CHECK(smoothed_slowing(c.model, cycle, smooth, why) == Approx(1).epsilon(1e-9));
  REQUIRE(smoothed_motion(c.model, nullptr, c.chain, c.motion, 0.1, smooth).good());  // twice the jerk
  CHECK(smoothed_slowing(c.model, cycle, smooth, why) == Approx(std::cbrt(2.0)).epsilon(1e-6));
  CHECK(why.limit == MotionLimit::joint_jerk);
}

TEST_CASE("the quickest window, with a rest of the motion's start and end") {
  const Case c(10);
  const ChainMotion quick = quickest_smoothed(c.model, nullptr, c.chain, cycle_of({0}, {to_joints({1})}), c.motion);
  CHECK(quick.duration <= double_s(1, 1, 2, 10).duration() * (1 + 1e-6));
  CHECK(quick.duration >= double_s(1, 1, 2, 10).duration() * (1 - 1e-6));  // which is the fastest there is
  CHECK(quick.x.front() == 0);
  CHECK(quick.u.front() == 0);
  CHECK(quick.x.back() == 0);
  CHECK(quick.u.back() == 0);
  CHECK(quick.path.q.back() == 1);
}
