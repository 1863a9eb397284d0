#include "armwright/motion/fine_rows.hpp"

#include <cmath>

#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// A motion of one joint along q = s² by s, from 1 to 2: speed 2 s ṡ, acceleration 2 s s̈ + 2 ṡ².
PathRows square_rows(const std::vector<double>& s) {
  PathRows path;
  path.joint_count = 1;
  for (const double at : s) path.s.push_back(at), path.q.push_back(at * at), path.first.push_back(2 * at), path.second.push_back(2), path.move.push_back(0);
  return path;
}

ChainMotion evenly(const std::vector<double>& s, double rate) {
  ChainMotion motion;
  motion.path = square_rows(s);
  for (const double at : s) motion.time.push_back((at - s[0]) / rate), motion.x.push_back(rate * rate), motion.u.push_back(0), motion.limit.push_back({});
  motion.duration = motion.time.back();
  return motion;
}

FineRows fine_of(const std::vector<double>& s, double rate, std::size_t after) {
  FineRows fine;
  fine.path = square_rows(s);
  for (const double at : s) fine.time.push_back((at - 1) / rate), fine.x.push_back(rate * rate), fine.u.push_back(0), fine.after.push_back(after), fine.spread.push_back(1);
  return fine;
}

}  // namespace

TEST_CASE("how much slower, solved: a limit of speed, and a torque with a part that stays") {
  CellSpec cell = bar(2, 0, false);
  set_limits(cell, 5, open_limit);
  Model model = compile(cell);
  const CycleSpec cycle = cycle_of({1}, {to_joints({4})});
  FineRows fine = fine_of({1.25, 1.5, 1.75}, 2, 0);  // speeds 5, 6, 7 against 5
  set_uses(model, cycle, fine);
  CHECK(fine.use[2].use == Approx(7 / 5.0));
  std::size_t worst = 9;
  CHECK(kept_square(model, cycle, fine, worst) == Approx(25 / 49.0).epsilon(1e-8));
  CHECK(worst == 2);
  fine = fine_of({1.1, 1.15, 1.2}, 2, 0);
  set_uses(model, cycle, fine);
  CHECK(kept_square(model, cycle, fine, worst) == 1);
  // A level bar: torque I q̈ + m g l cos(q); q̈ = 2 ṡ² k for ṡ² k.
  cell = bar(2, 0.3, true);
  set_limits(cell, open_limit, open_limit);
  cell.arm.joints[0].torque_continuous = cell.arm.joints[0].torque_peak = 10;
  model = compile(cell);
  fine = fine_of({1.1}, 2, 0);
  set_uses(model, cycle, fine);
  const double weight = 0.3 * g0 * std::cos(1.21);
  CHECK(fine.use[0].use == Approx((2 * 2 * 4 + weight) / 10));
  CHECK(kept_square(model, cycle, fine, worst) == Approx((10 - weight) / 16).epsilon(1e-8));
  cell.arm.joints[0].torque_continuous = cell.arm.joints[0].torque_peak = 0.5 * weight;  // not even standing
  CHECK(kept_square(compile(cell), cycle, fine, worst) < 0);
}

TEST_CASE("rows are added where resampling misses; the grid where a limit is passed") {
  ChainMotion motion = evenly({1, 1.4, 1.8, 2}, 2);
  FineRows fine = fine_of({1.5, 1.6, 1.7}, 2, 1);
  fine.use.assign(3, {MotionLimit::joint_speed, 0, 1.2});
  fine.missed = {0, 0.1, 0};
  fine.peak = {0, 0, 1.1};
  std::vector<std::uint8_t> added;
  ChainMotion same = motion;
  add_rows(fine, 0.2, same, added);
  CHECK(added.empty());
  CHECK(same.time.size() == 4);
  add_rows(fine, 0.05, motion, added);
  CHECK(motion.path.s == std::vector<double>{1, 1.4, 1.5, 1.6, 1.7, 1.8, 2});
  CHECK(added == std::vector<std::uint8_t>{0, 1, 1, 1, 1, 0, 0});
  miss_peaks(1.2, fine);
  CHECK(fine.missed[2] == 0);
  miss_peaks(1.05, fine);
  CHECK(fine.missed[2] == 1);
  ChainPath chain;
  chain.rows = square_rows({1, 1.4, 1.8, 2});
  fine.missed.assign(3, 0.0);
  CHECK(refine_grid(fine, 0.3, 0.5, chain) == 0);
  CHECK(refine_grid(fine, 0.1, 0.5, chain) == 1);
  CHECK(chain.rows.s == std::vector<double>{1, 1.4, 1.6, 1.8, 2});
  CHECK(chain.rows.q[2] == Approx(1.6 * 1.6));
}

TEST_CASE("a peak of speed between three instants is seen") {
  CellSpec cell = bar(2, 0, false);
  set_limits(cell, 5, open_limit);
  const Model model = compile(cell);
  FineRows fine = fine_of({1, 1.25, 1.5}, 2, 0);
  for (std::size_t k = 0; k < 3; ++k) {  // speeds 4, 4.75, 4.5
    const double speed = k == 0 ? 4 : k == 1 ? 4.75 : 4.5;
    fine.x[k] = std::pow(speed / fine.path.first[k], 2);
  }
  set_uses(model, cycle_of({1}, {to_joints({4})}), fine);
  // v = 4.75 + 0.25 t − 0.5 t² about the middle: 4.75 + 0.25² / (4 · 0.5).
  CHECK(fine.peak[2] == Approx((4.75 + 0.0625 / 2) / 5));
}
