#include "armwright/studies/placement.hpp"

#include <cmath>

#include "armwright/studies/targets.hpp"
#include "catch_shim.hpp"
#include "studies/by_hand.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

ShapeSpec box(const std::string& name, Vec3 at_point, Vec3 size) {
  ShapeSpec shape;
  shape.kind = ShapeKind::box, shape.name = name, shape.pose = at(at_point), shape.size = size;
  return shape;
}

// A ball on the tool, a foot, a box beside and a floor; axes that hold 60 and 25 N m.
CellSpec cell_of(Draw& draw) {
  HandArm arm;
  arm.offset = 0.1;
  arm.lower[0] = -2.5, arm.upper_limit[0] = 2.8, arm.bend = 2;
  CellSpec cell = arm.cell();
  cell.arm.links[1].inertia = {5, {0.3, 0, 0}}, cell.arm.links[2].inertia = {2, {0.25, 0, 0}};
  cell.arm.joints[1].torque_continuous = 60, cell.arm.joints[2].torque_continuous = 25;
  cell.arm.links[5].shapes.resize(1);
  cell.arm.links[5].shapes[0].kind = ShapeKind::sphere, cell.arm.links[5].shapes[0].radius = 0.05;
  cell.arm.base_link.shapes = {box("foot", {0, 0, -0.3}, {0.2, 0.2, 0.2})};
  cell.mount = {turn_about({0, 0, 1}, draw.uniform(-3, 3)), draw.vector(0.3)};
  cell.fixtures = {box("post", {0.5, 0.4, 0.1}, {0.2, 0.2, 1.2})};
  cell.fixtures[0].clearance = 0.01;
  ShapeSpec floor;
  floor.kind = ShapeKind::half_space, floor.name = "floor", floor.pose = at({0, 0, -0.9});
  cell.fixtures.push_back(floor);
  return cell;
}

std::vector<TargetSpec> points(Draw& draw, int count) {
  std::vector<TargetSpec> targets(static_cast<std::size_t>(count));
  for (TargetSpec& target : targets) target.pose = draw.pose(0.7), target.mass = draw.uniform(0, 3), target.load_centre = draw.vector(0.05);
  return targets;
}

PlaceSetup setup_of(const CellSpec& cell, std::span<const TargetSpec> targets, const PlaceRequest& request, std::span<const ShapeSpec> zones = {},
                    std::span<const std::string> along = {}) {
  const auto inverse = prepared_of(cell);
  const std::vector<std::shared_ptr<const Scene>> scenes(targets.size(), build_scene(cell, inverse->model));
  return make_place_setup(inverse, scenes, targets, zones, along, request);
}

}  // namespace

TEST_CASE("a place scores what the check of the cell built there anew says") {
  Draw draw{7};
  const Measure measures[] = {Measure::limit_margin, Measure::clearance, Measure::payload};
  const Merit merits[] = {Merit::limit_margin, Merit::clearance_spare, Merit::payload};
  int some = 0, stands = 0;
  for (int k = 0; k < 60; ++k) {
    CellSpec cell = cell_of(draw);
    const auto targets = points(draw, 6);
    PlaceRequest request;
    request.margin = 0.005, request.wanted = {true, true, true};
    const PlaceSetup setup = setup_of(cell, targets, request);
    // Any attitude at all; the foot is left out of it, as build_scene() does not compare what stands still.
    const Place place{{turn_about(draw.direction(), draw.uniform(-3, 3)), draw.vector(0.4)}, 0};
    const PlaceScore score = score_places(setup, {&place, 1}, 0.3, false, 1, {}).front();
    if (score.served < 0) continue;
    ++stands;
    cell.mount = place.shift * cell.mount;
    const auto inverse = prepared_of(cell);
    const PostureSearch search = make_search(inverse, build_scene(cell, inverse->model), request.margin, 0.1, 0.3);
    for (std::size_t m = 0; m < 3; ++m) {
      TargetRequest asked;
      asked.order = {merits[m]};
      int served = 0;
      double worst = std::numeric_limits<double>::infinity();
      for (std::size_t i = 0; i < targets.size(); ++i) {
        const TargetAnswer answer = check_targets(search, {&targets[i], 1}, asked, 1, {}).front();
        if (answer.outcome != Outcome::served) continue;
        ++served;
        const double values[] = {answer.limit_margin, answer.clearance_spare, answer.payload.mass - targets[i].mass};
        worst = std::min(worst, values[m]);
      }
      CHECK(score.served == served);
      if (served > 0) CHECK(score.worst[m][static_cast<std::size_t>(measures[m])] == Approx(worst).epsilon(1e-9).margin(1e-9));
      some += served > 0 && served < 6;
    }
  }
  CHECK(stands > 30);
  CHECK(some > 30);
}

TEST_CASE("the foot keeps clear of fixtures, zones and the floor; what goes along is not in its way") {
  Draw draw{3};
  CellSpec cell = cell_of(draw);
  cell.mount = at({0, 0, -0.5});  // the foot from -0.9 to -0.7, on the floor
  cell.fixtures[0].size.z = 2;    // the post from -0.9 too
  const auto targets = points(draw, 1);
  const auto stands = [&](Vec3 by, std::span<const ShapeSpec> zones = {}, std::span<const std::string> along = {}, Rotation turn = no_rotation) {
    const PlaceSetup setup = setup_of(cell, targets, {}, zones, along);
    const Place place{{turn, by}, 0};
    return score_places(setup, {&place, 1}, 0.3, false, 1, {}).front().served >= 0;
  };
  CHECK(stands({0, 0, 0}));
  CHECK_FALSE(stands({0, 0, -0.01}));  // into the floor
  CHECK(stands({0.299, 0.4, 0}));      // beside the post, which reaches from 0.4 to 0.6
  CHECK_FALSE(stands({0.301, 0.4, 0}));
  const std::vector<std::string> along{"post"};
  CHECK(stands({0.301, 0.4, 0}, {}, along));
  const std::vector<ShapeSpec> zones{box("walkway", {-0.5, 0, 0}, {0.2, 5, 40})};  // from -0.6 to -0.4
  CHECK(stands({-0.299, 0, 0}, zones));
  CHECK_FALSE(stands({-0.301, 0, 0}, zones));
  CHECK_FALSE(stands({-0.299, 0, 0}, zones, {}, turn_about({0, 0, 1}, 0.1)));  // a corner turned into it
}

TEST_CASE("a foot sunk into the floor may be sunk as deep elsewhere, and no deeper") {
  Draw draw{4};
  CellSpec cell = cell_of(draw);
  cell.mount = at({0, 0, -0.55});
  const auto targets = points(draw, 1);
  const PlaceSetup setup = setup_of(cell, targets, {});
  const std::vector<Place> places{{at({0.1, -0.4, 0}), 0}, {at({0.1, -0.4, -0.001}), 0}};
  const auto scores = score_places(setup, places, 0.3, false, 1, {});
  CHECK(scores[0].served >= 0);
  CHECK(scores[1].served == -1);
}

TEST_CASE("an arm parked on its track scores as one that stands there") {
  Draw draw{5};
  CellSpec cell = cell_of(draw);
  cell.mount = at({0, 0, 0});
  cell.arm.base_link.shapes.clear();
  const auto targets = points(draw, 8);
  CellSpec on_track = cell;
  on_track.track = TrackSpec{};
  on_track.track->axis = {0, 1, 0}, on_track.track->lower = -1, on_track.track->upper = 1;
  PlaceRequest request;
  request.parked = true;
  const PlaceSetup setup = setup_of(on_track, targets, request);
  int some = 0;
  for (const double along : {-1.0, -0.35, 0.0, 0.2, 1.0}) {  // the ends of the track are no joint limits here
    const Place parked{identity_pose, along}, moved{at({0, along, 0}), 0};
    const PlaceScore one = score_places(setup, {&parked, 1}, 0.3, false, 1, {}).front();
    const PlaceScore other = score_places(setup_of(cell, targets, {}), {&moved, 1}, 0.3, false, 1, {}).front();
    CHECK(one.served == other.served);
    if (one.served > 0) CHECK(one.worst[0][0] == Approx(other.worst[0][0]).margin(1e-9));
    some += one.served > 0;
  }
  CHECK(some > 3);
}

TEST_CASE("a track is tried between its coarse steps while a point is not served") {
  Draw draw{8};
  CellSpec cell = cell_of(draw);
  cell.mount = at({0, 0, 0});
  cell.arm.base_link.shapes.clear();
  cell.track = TrackSpec{};
  cell.track->axis = {0, 1, 0}, cell.track->lower = -1, cell.track->upper = 1;
  const auto targets = points(draw, 60);
  PlaceRequest request;
  request.slide_step = 0.25;  // 1 m apart at first
  const std::vector<Place> here(1);
  const PlaceSetup setup = setup_of(cell, targets, request);
  const auto quick = score_places(setup, here, 0.3, false, 1, {}).front(), thorough = score_places(setup, here, 0.3, true, 1, {}).front();
  request.slide_step = 1;  // those of the first alone
  const auto sparse = score_places(setup_of(cell, targets, request), here, 0.3, true, 1, {}).front();
  CHECK(sparse.served < thorough.served);
  CHECK(quick.served == thorough.served);
  CHECK(quick.worst[0][0] <= thorough.worst[0][0]);
  const auto inverse = prepared_of(cell);
  const PostureSearch search = make_search(inverse, build_scene(cell, inverse->model), 0, 0.25, 0.3);
  int checked = 0;
  for (const TargetSpec& target : targets) checked += check_targets(search, {&target, 1}, {}, 1, {}).front().outcome == Outcome::served;
  CHECK(thorough.served <= checked);  // which slides on from the nearest
  CHECK(thorough.served >= checked - 3);
}

TEST_CASE("what is not served lacks the less the nearer it is to it") {
  HandArm arm;  // reaches from 0.1 to 1.1 m
  arm.lower[0] = -1, arm.upper_limit[0] = 1;
  arm.lower[1] = -0.2, arm.upper_limit[1] = quarter_turn - 0.2;
  arm.lower[2] = -2.8, arm.upper_limit[2] = 2.8;
  CellSpec cell = arm.cell();
  std::vector<TargetSpec> targets(1);
  const PlaceSetup setup = setup_of(cell, targets, {});
  std::vector<Place> places;
  for (const double away : {3.0, 2.0, 1.2}) places.push_back({at({-away, 0, 0}), 0});      // out of reach
  for (const double turned : {2.0, 1.2, 0.8}) places.push_back({{turn_about({0, 0, 1}, turned), -0.9 * Vec3{std::cos(0.0), 0, 0}}, 0});
  const auto scores = score_places(setup, places, 0.3, false, 1, {});
  for (std::size_t i = 1; i < scores.size(); ++i) CHECK(scores[i].lacking < scores[i - 1].lacking);
  CHECK(scores[5].served == 1);
  CHECK(scores[5].lacking == 0);
}

TEST_CASE("threads do not change a bit, and a stop is heard") {
  Draw draw{6};
  const CellSpec cell = cell_of(draw);
  auto targets = points(draw, 5);
  for (TargetSpec& target : targets) target.free_spin = true, target.tilt = 0.2;
  PlaceRequest request;
  request.wanted = {true, true, true};
  const PlaceSetup setup = setup_of(cell, targets, request);
  std::vector<Place> places(23);
  for (Place& place : places) place.shift = {turn_about({0, 0, 1}, draw.uniform(-3, 3)), draw.vector(0.5)};
  const auto one = score_places(setup, places, 0.4, false, 1, {}), three = score_places(setup, places, 0.4, false, 3, {});
  for (std::size_t i = 0; i < places.size(); ++i) {
    CHECK(one[i].served == three[i].served);
    CHECK(one[i].lacking == three[i].lacking);
    for (std::size_t m = 0; m < 3; ++m)
      for (std::size_t k = 0; k < 3; ++k) CHECK((one[i].worst[m][k] == three[i].worst[m][k] || (std::isnan(one[i].worst[m][k]) && std::isnan(three[i].worst[m][k]))));
  }
  Progress stop;
  stop.report = [](std::size_t, std::size_t) { return false; };
  CHECK(score_places(setup, std::vector<Place>(5000), 0.1, false, 2, stop).empty());
}
