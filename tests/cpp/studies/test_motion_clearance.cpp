#include "armwright/studies/motion_clearance.hpp"

#include <cmath>

#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// A ball of 0.05 m that slides along x past another and back; what it carries is a ball 0.15 m in radius.
struct Slide {
  CellSpec cell;
  Slide() {
    JointSpec way = joint("way", at({0, 0, 0}), {1, 0, 0}, -2, 2);
    way.kind = JointKind::prismatic;
    LinkSpec beam;
    beam.name = "beam";
    ShapeSpec rod;
    rod.kind = ShapeKind::sphere, rod.radius = 0.05;
    beam.shapes = {rod};
    cell.arm.joints = {way}, cell.arm.links = {beam};
    ShapeSpec ball = rod;
    ball.name = "ball", ball.pose = at({0.33, 0.4, 0}), ball.clearance = 0.25;
    cell.fixtures = {ball};
  }
  Model model() const { return compile(cell); }
  std::shared_ptr<const Scene> scene(bool carries) const {
    CellSpec with = cell;
    if (carries) {
      ShapeSpec ball = with.fixtures[0];
      ball.radius = 0.15, ball.pose = at({0, 0, 0}), ball.clearance = 0, ball.name = "load";
      with.load.emplace();
      with.load->shapes = {ball};
    }
    return build_scene(with, model());
  }
};

// There evenly in 1 s, bare; an instant; back in 1 s, loaded. Rows only at the ends.
TimedMotion there_and_back() {
  TimedMotion m;
  m.joint_count = 1;
  m.time = {0, 1, 1, 1, 2};
  m.q = {-1, 1, 1, 1, -1};
  m.speed = {2, 2, 0, -2, -2};
  m.acceleration = {0, 0, 0, 0, 0};
  m.move = {0, 0, 1, 2, 2};
  m.load = {-1, -1, 0, 0, 0};
  m.limit.assign(5, 0), m.limit_axis.assign(5, -1);
  return m;
}

}  // namespace

TEST_CASE("between two rows far from a ball the motion passes it: found, with what is carried, and when") {
  const Slide slide;
  const MotionClearance found = motion_clearance(slide.model(), {slide.scene(true), slide.scene(false)}, there_and_back(), 4, 1e-3, 2, {});
  REQUIRE(found.least.size() == 4);
  // Two balls pass each other 0.4 m apart, at x = 0.33.
  CHECK(found.least[0].least == Approx(0.3).margin(1e-3));
  CHECK(found.least[2].least == Approx(0.2).margin(1e-3));
  CHECK(found.least[0].proven <= 0.3);
  CHECK(found.least[2].proven <= 0.2);
  CHECK(found.least_time[0] == Approx((0.33 + 1) / 2).margin(0.02));
  CHECK(found.least_time[2] == Approx(1 + (1 - 0.33) / 2).margin(0.02));
  CHECK(found.between[0][1] == "ball");
  CHECK(found.between[2][0] == "load");
  CHECK(found.kept == std::vector<std::uint8_t>{1, 1, 0, 1});
  // It stands for an instant, 0.67 m along and 0.4 m aside.
  CHECK(found.least[1].least == Approx(std::hypot(0.67, 0.4) - 0.2));
  CHECK(std::isnan(found.least_time[3]));
  for (const std::size_t row : {std::size_t{0}, std::size_t{1}})
    CHECK(found.distance[row] == Approx(std::hypot(row == 0 ? 1.33 : 0.67, 0.4) - 0.1));
}
