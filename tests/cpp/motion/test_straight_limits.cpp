#include "armwright/motion/straight_limits.hpp"

#include <cmath>

#include "armwright/motion/time_optimal.hpp"
#include "catch_shim.hpp"
#include "motion_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// Sums of sines; now and then a joint stands still, goes straight, or turns back where a row stands.
PathRows wavy_path(Draw& draw, std::size_t joints, std::size_t rows) {
  PathRows path{joints, {}, {}, {}, {}, std::vector<std::int32_t>(rows, 0)};
  double s = draw.uniform(-1, 1);
  for (std::size_t row = 0; row < rows; ++row) path.s.push_back(s), s += draw.uniform(0.2, 1) / static_cast<double>(rows);
  path.q.resize(rows * joints), path.first = path.second = path.q;
  for (std::size_t i = 0; i < joints; ++i) {
    const double kind = draw.uniform(0, 1), size = kind < 0.15 ? 0 : draw.uniform(0.1, 1), pace = draw.uniform(1, 15), at = draw.uniform(-3, 3);
    const std::size_t turns_at = static_cast<std::size_t>(draw.uniform(0, static_cast<double>(rows) - 1));
    for (std::size_t row = 0; row < rows; ++row) {
      double *q = &path.q[row * joints + i], *first = &path.first[row * joints + i], *second = &path.second[row * joints + i];
      if (kind > 0.9) *q = size * path.s[row], *first = size, *second = 0;
      else *q = size * std::sin(pace * path.s[row] + at), *first = size * pace * std::cos(pace * path.s[row] + at), *second = -pace * pace * *q;
      if (kind > 0.7 && kind < 0.9 && row == turns_at) *first = 0;
    }
  }
  return path;
}

CellSpec limited_cell(Draw& draw, std::size_t joints) {
  CellSpec cell = random_cell(draw, joints, draw.uniform(0, 1) < 0.3);
  const double kind = draw.uniform(0, 1);
  for (JointSpec& j : cell.arm.joints) {
    j.speed = kind > 0.95 ? open_limit : draw.uniform(0.5, 4);
    j.acceleration = kind > 0.3 && draw.uniform(0, 1) < 0.9 ? draw.uniform(1, 20) : open_limit;
    const bool weak = draw.uniform(0, 1) < 0.03;
    j.torque_continuous = j.torque_peak = kind < 0.6 && draw.uniform(0, 1) < 0.9 ? draw.uniform(weak ? 5 : 300, 900) : open_limit;
  }
  return cell;
}

struct Timed {
  PathTiming timing;
  TimingStop stop;
};

Timed timed(const Model& model, const PathRows& path, double tool_acceleration) {
  CycleSpec cycle;
  cycle.moves = {MoveSpec{}};
  cycle.moves[0].tool.acceleration = tool_acceleration;
  const PathLimits limits = path_limits(model, path, cycle);
  CHECK((!limits_are_straight(limits) || tool_acceleration == open_limit));
  Timed out;
  out.stop = time_optimal(limits, path.s, out.timing);
  return out;
}

}  // namespace

// A tool acceleration far beyond all others binds nowhere, but is no straight line: the same motion is then found by search.
TEST_CASE("straight limits give the motion that the search finds") {
  Draw draw{41};
  int straight = 0, refused = 0;
  for (int trial = 0; trial < 400; ++trial) {
    const std::size_t joints = 1 + static_cast<std::size_t>(draw.uniform(0, 9)), rows = trial < 40 ? 2 + static_cast<std::size_t>(trial) % 8 : 101;
    const Model model = compile(limited_cell(draw, joints));
    const PathRows path = wavy_path(draw, joints, rows);
    const Timed found = timed(model, path, open_limit), searched = timed(model, path, 1e12);
    CycleSpec cycle;
    cycle.moves = {MoveSpec{}};
    straight += limits_are_straight(path_limits(model, path, cycle));
    CAPTURE(trial, joints, rows);
    if (found.stop.cause == TimingStop::Cause::unbounded) continue;  // the tool's acceleration bounds it
    REQUIRE(static_cast<int>(found.stop.cause) == static_cast<int>(searched.stop.cause));
    if (!found.stop.good()) {
      ++refused;
      CHECK(found.stop.row == searched.stop.row);
      continue;
    }
    double greatest = 0, off = 0;
    for (const double x : searched.timing.x) greatest = std::max(greatest, x);
    for (std::size_t row = 0; row < rows; ++row) off = std::max(off, std::fabs(found.timing.x[row] - searched.timing.x[row]));
    // The search ends within 1e-9 of a row's edge and lets a step pass by 1e-11, which counts for more where lines are steep.
    CHECK(off <= 1e-5 * greatest);
    CHECK(found.timing.duration == Approx(searched.timing.duration).epsilon(1e-8));
  }
  CHECK(straight > 300);
  CHECK(refused > 0);
  CHECK(refused < 200);
}

TEST_CASE("no limit is passed at either end of an interval") {
  Draw draw{43};
  for (int trial = 0; trial < 200; ++trial) {
    const std::size_t joints = 1 + static_cast<std::size_t>(draw.uniform(0, 9));
    const Model model = compile(limited_cell(draw, joints));
    const PathRows path = wavy_path(draw, joints, 61);
    CycleSpec cycle;
    cycle.moves = {MoveSpec{}};
    const PathLimits limits = path_limits(model, path, cycle);
    if (!limits_are_straight(limits)) continue;
    PathTiming timing;
    if (!time_optimal(limits, path.s, timing).good()) continue;
    for (std::size_t row = 0; row + 1 < path.rows(); ++row)
      for (std::size_t end = row; end <= row + 1; ++end) CHECK(most_used(limits, end, timing.x[end], timing.u[row]).use < 1 + 1e-11);
  }
}
