#include "armwright/studies/track/intervals.hpp"

#include <cmath>

#include "../by_hand.hpp"
#include "catch_shim.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// Served or not at every 0.1 mm by hand, and stretches of it.
struct Stretch {
  double lower, upper;
};
template <class Serves>
std::vector<Stretch> sampled(double lower, double upper, const Serves& serves) {
  std::vector<Stretch> found;
  const auto steps = static_cast<long>(std::lround((upper - lower) / 1e-4));
  bool before = false;
  for (long k = 0; k <= steps; ++k) {
    const double s = lower + (upper - lower) * static_cast<double>(k) / static_cast<double>(steps);
    const bool here = serves(s);
    if (here && !before) found.push_back({s, s});
    if (here) found.back().upper = s;
    before = here;
  }
  return found;
}

CellSpec on_track(const HandArm& arm, double lower = -2, double upper = 2) {
  CellSpec cell = arm.cell();
  cell.track = TrackSpec{};
  cell.track->axis = {0, 1, 0};
  cell.track->lower = lower, cell.track->upper = upper;
  cell.track->carriage.name = "carriage";
  return cell;
}

std::vector<TrackInterval> found_for(const CellSpec& cell, const TargetSpec& target, bool with_scene = false, double margin = 0) {
  const auto inverse = prepared_of(cell);
  std::shared_ptr<const Scene> scene;
  if (with_scene) scene = build_scene(cell, inverse->model);
  TrackIntervalRequest request;
  request.margin = margin;
  const auto all = track_intervals(inverse, scene, {&target, 1}, request, 1, {});
  REQUIRE(all.size() == 1);
  return all[0];
}

TargetSpec point(const Vec3& position, const Rotation& attitude) {
  TargetSpec target;
  target.pose = {attitude, position};
  return target;
}

void compare(const std::vector<TrackInterval>& found, const std::vector<Stretch>& wanted, double within = 1.5e-4) {
  REQUIRE(found.size() == wanted.size());
  for (std::size_t k = 0; k < found.size(); ++k) {
    CHECK(found[k].lower == Approx(wanted[k].lower).margin(within).epsilon(0));
    CHECK(found[k].upper == Approx(wanted[k].upper).margin(within).epsilon(0));
  }
}

}  // namespace

TEST_CASE("one attitude, joints without limits: a straight line through a shell of spheres") {
  const HandArm arm;  // links 0.6 and 0.5 m: from 0.1 to 1.1 m about the shoulder, which slides along y
  Draw draw{3};
  for (int k = 0; k < 30; ++k) {
    const Vec3 p{draw.uniform(-1.2, 1.2), draw.uniform(-0.5, 0.5), draw.uniform(-0.6, 0.6)};
    const double aside = std::hypot(p.x, p.z);
    const auto found = found_for(on_track(arm), point(p, turn_about(draw.direction(), draw.uniform(-3, 3))));
    if (aside >= 1.1) {
      CHECK(found.empty());
      continue;
    }
    const double out = std::sqrt(1.1 * 1.1 - aside * aside), in = aside < 0.1 ? std::sqrt(0.01 - aside * aside) : 0;
    if (in > 0) compare(found, {{p.y - out, p.y - in}, {p.y + in, p.y + out}}, 1e-5);
    else compare(found, {{p.y - out, p.y + out}}, 1e-5);
  }
}

TEST_CASE("one attitude, joint limits: as the inverse worked out by hand finds at every 0.1 mm") {
  Draw draw{7};
  int stretches = 0;
  for (int k = 0; k < 100; ++k) {
    HandArm arm;
    arm.offset = 0.15;
    for (std::size_t i = 0; i < 3; ++i) arm.lower[i] = -draw.uniform(0.4, 2.5), arm.upper_limit[i] = draw.uniform(0.4, 2.5);
    arm.bend = draw.uniform(0.5, 2);
    const Vec3 p{draw.uniform(-1, 1), draw.uniform(-0.5, 0.5), draw.uniform(-0.5, 0.8)};
    const Pose tool{turn_about(draw.direction(), draw.uniform(-3, 3)), p};
    const auto wanted = sampled(-2, 2, [&](double s) { return !arm.postures({tool.rotation, p - Vec3{0, s, 0}}).empty(); });
    const auto found = found_for(on_track(arm), point(p, tool.rotation));
    // Stretches and gaps shorter than 0.1 mm may be missed, by samples too.
    compare(found, wanted);
    stretches += static_cast<int>(wanted.size());
    for (const TrackInterval& interval : found) {
      const double middle = 0.5 * (interval.lower + interval.upper);
      CHECK(interval.q[0] == Approx(middle).margin(1e-12));
      CHECK(limit_margin(compile(on_track(arm)), interval.q.data()) >= 0);
    }
  }
  CHECK(stretches > 20);
}

TEST_CASE("a free spin: served where the forearm lies within the bend of the plane square to the tool's axis") {
  Draw draw{11};
  int stretches = 0;
  for (int k = 0; k < 20; ++k) {
    HandArm arm;
    arm.offset = 0.1;
    for (std::size_t i = 0; i < 3; ++i) arm.lower[i] = -draw.uniform(0.8, 2.8), arm.upper_limit[i] = draw.uniform(0.8, 2.8);
    arm.bend = draw.uniform(0.1, 0.8);
    const Vec3 p{draw.uniform(-1, 1), draw.uniform(-0.5, 0.5), draw.uniform(-0.5, 0.8)};
    TargetSpec target = point(p, turn_about(draw.direction(), draw.uniform(-3, 3)));
    target.free_spin = true;
    const Vec3 axis = target.pose.rotation.z;
    const auto wanted = sampled(-2, 2, [&](double s) {
      for (const Vec3& q : arm.wrists(p - Vec3{0, s, 0})) {
        const Vec3 along{std::cos(q.x) * std::cos(q.y + q.z), std::sin(q.x) * std::cos(q.y + q.z), std::sin(q.y + q.z)};
        if (std::asin(std::fabs(dot(along, axis))) <= arm.bend) return true;
      }
      return false;
    });
    compare(found_for(on_track(arm), target), wanted);
    stretches += static_cast<int>(wanted.size());
  }
  CHECK(stretches > 8);
}

TEST_CASE("a cone: served where the tool's axis may lean far enough") {
  Draw draw{13};
  int stretches = 0;
  for (int k = 0; k < 10; ++k) {
    HandArm arm;
    arm.bend = draw.uniform(0.1, 0.6);
    const Vec3 p{draw.uniform(-1, 1), draw.uniform(-0.5, 0.5), draw.uniform(-0.5, 0.8)};
    TargetSpec target = point(p, turn_about(draw.direction(), draw.uniform(-3, 3)));
    target.free_spin = true, target.tilt = draw.uniform(0.1, 0.5);
    const Vec3 axis = target.pose.rotation.z;
    const auto wanted = sampled(-2, 2, [&](double s) {
      for (const Vec3& q : arm.wrists(p - Vec3{0, s, 0})) {
        const Vec3 along{std::cos(q.x) * std::cos(q.y + q.z), std::sin(q.x) * std::cos(q.y + q.z), std::sin(q.y + q.z)};
        if (std::asin(std::fabs(dot(along, axis))) <= arm.bend + target.tilt) return true;
      }
      return false;
    });
    compare(found_for(on_track(arm), target), wanted, 2e-4);
    stretches += static_cast<int>(wanted.size());
  }
  CHECK(stretches > 5);
}

TEST_CASE("an arm of five joints takes an attitude with the track at one place: that place") {
  Draw draw{17};
  for (int k = 0; k < 12; ++k) {
    CellSpec cell;
    const Vec3 down{0, -1, 0};
    cell.arm.joints = {joint("axis 1", at({0, 0, 0.4}), {0, 0, 1}), joint("axis 2", at({0.05, 0, 0}), down), joint("axis 3", at({0.5, 0, 0}), down),
                       joint("axis 4", at({0.45, 0, 0}), down), joint("axis 5", at({0.1, 0, 0}), {1, 0, 0})};
    cell.arm.links.resize(5);
    for (std::size_t i = 0; i < 5; ++i) cell.arm.links[i].name = "link " + std::to_string(i + 1);
    cell.track = TrackSpec{};
    cell.track->axis = {0, 1, 0}, cell.track->lower = -1, cell.track->upper = 1;
    cell.track->carriage.name = "carriage";
    const double q[6] = {draw.uniform(-0.9, 0.9), draw.uniform(-1.2, 1.2), draw.uniform(-1, 1), draw.uniform(-1, 1), draw.uniform(-1, 1), draw.uniform(-1, 1)};
    TargetSpec target;
    target.pose = slow_frames(cell, q).tool;
    const auto found = found_for(cell, target);
    bool known = false;
    for (const TrackInterval& interval : found) {
      CHECK(interval.upper - interval.lower < 1e-4);
      known = known || (interval.lower <= q[0] + 1e-9 && interval.upper >= q[0] - 1e-9);
    }
    CHECK(known);
  }
}
