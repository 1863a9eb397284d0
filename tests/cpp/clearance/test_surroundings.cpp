#include "armwright/clearance/surroundings.hpp"

#include <cmath>

#include "armwright/kinematics/chain.hpp"
#include "catch_shim.hpp"
#include "cells.hpp"

using namespace armwright;
using namespace armwright::testing;

TEST_CASE("surroundings moved about the arm are the arm moved among them") {
  Dice dice{11};
  for (int k = 0; k < 20; ++k) {
    CellSpec cell = plain_cell();
    strew(cell, dice, 7, false);
    ShapeSpec floor;
    floor.kind = ShapeKind::half_space, floor.name = "floor", floor.pose = at({0, 0, -0.7});
    cell.fixtures.push_back(floor);
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    const Pose shift{frame_on((1 / norm(Vec3{0.3, -0.5, 0.7})) * Vec3{0.3, -0.5, 0.7}), {0.2, 0.1 * k, -0.1}};
    CellSpec elsewhere = cell;
    elsewhere.mount = shift * cell.mount;
    const Model model_there = compile(elsewhere);
    const auto scene_there = build_scene(elsewhere, model_there);
    const auto moved = std::make_shared<Scene>(*scene);
    for (const Pose& by : {Pose{no_rotation, {5, 5, 5}}, inverse(shift)}) move_surroundings(*moved, *scene, by);  // what was before is gone
    const auto spare = std::make_shared<Scene>(*spare_scene(*scene, 0.02));
    move_surroundings(*spare, *scene, inverse(shift));
    const auto spare_there = spare_scene(*scene_there, 0.02);
    const auto work = make_workspace(*scene);
    for (int j = 0; j < 20; ++j) {
      std::vector<double> q(6);
      for (double& value : q) value = dice.within(-2, 2);
      std::vector<Pose> here(6), there(6);
      joint_frames<double>(model, q.data(), here.data());
      joint_frames<double>(model_there, q.data(), there.data());
      const double distance = least_distance(*moved, here.data(), *work, 1e9).distance;
      CHECK(distance == Approx(least_distance(*scene_there, there.data(), *work, 1e9).distance).margin(1e-7));
      const double left = least_distance(*spare_there, there.data(), *work, 1e9).distance;
      CHECK(least_distance(*spare, here.data(), *work, 1e9).distance == Approx(left).margin(1e-7));
      if (std::fabs(left) > 1e-6) CHECK(is_clear(*moved, here.data(), *work, 0.02) == (left > 0));
    }
  }
}

TEST_CASE("rails stay with the track, fixtures do not; a pedestal goes along by its name") {
  CellSpec cell = plain_cell();
  cell.track = test_track();
  cell.fixtures = {box({0.2, 0.2, 0.2}, at({2, 0, 0})), box({0.1, 0.1, 0.1}, at({0, -2, 0}))};
  cell.fixtures[0].name = "pedestal", cell.fixtures[1].name = "bin";
  const Model model = compile(cell);
  const auto scene = build_scene(cell, model);
  const std::vector<std::string> along{"pedestal"};
  const auto standing = with_stand(*scene, along);
  const auto moved = std::make_shared<Scene>(*standing);
  move_surroundings(*moved, *standing, at({0, 0, 1}));
  std::size_t stayed = 0, went = 0;
  for (std::size_t i = scene->moving; i < scene->solids.size(); ++i) {
    const double up = moved->solids[i].pose.position.z - scene->solids[i].pose.position.z;
    const bool bin = scene->names[static_cast<std::size_t>(scene->solids[i].name)] == "bin";
    CHECK(up == (bin ? 1 : 0));
    (bin ? went : stayed) += 1;
  }
  CHECK(went == 1);
  CHECK(stayed == 3);  // two rails and the pedestal
  CHECK(stand_pairs(*standing).size() == 3);
}
