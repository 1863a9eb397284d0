#include "catch_shim.hpp"

#include <limits>

#include "armwright/clearance/scene_data.hpp"
#include "armwright/clearance/surroundings.hpp"
#include "armwright/kinematics/chain.hpp"
#include "cells.hpp"

// Scenes with so many fixtures that a tree stands over them, held to the same scenes without, where every ball is looked at, bit
// for bit, and to asking every pair.

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

std::shared_ptr<Scene> without_tree(const Scene& scene) {
  auto out = std::make_shared<Scene>(scene);
  out->tree.branches.clear();
  return out;
}

// What stands about the arm, of some sort.
CellSpec crowded(std::uint64_t seed, std::size_t count) {
  Dice dice(seed);
  CellSpec cell = plain_cell();
  if (seed % 4 == 3) cell.track = test_track();
  if (seed % 5 == 1) cell.arm.links[3].shapes.push_back(hull(box_corners({0.2, 0.1, 0.1})));
  if (seed % 5 == 2)  // nothing that moves is told exactly
    for (LinkSpec& one : cell.arm.links) one.shapes = {box({0.1, 0.1, 0.2}, at({0.05, 0, 0.05}))};
  if (seed % 7 == 3) {  // and no pairs of the arm: the first bound is a guess
    for (LinkSpec& one : cell.arm.links) one.shapes.clear();
    cell.arm.links[5].shapes = {sphere(0.05)};
  }
  static constexpr ShapeKind kinds[] = {ShapeKind::cylinder, ShapeKind::capsule, ShapeKind::sphere, ShapeKind::convex_hull, ShapeKind::mesh};
  for (std::size_t i = 0; i < count; ++i) {
    const bool box_too = seed % 3 == 0 || (seed % 3 == 1 && i % 2 == 0) || (seed % 6 == 5 && i == count / 2);
    ShapeSpec s = dice.solid(box_too ? ShapeKind::box : kinds[i % 5], 0);
    const double away = dice.within(1, seed % 2 == 0 ? 2.5 : 12);
    s.pose.position = away * dice.direction();
    if (seed % 11 == 4) s.pose.position = {1, 0.5, 0.5};                                // all at one place
    if (seed % 11 == 5) s.pose.position = {0.25 * static_cast<double>(i % 8) + 0.7, 0.25 * static_cast<double>(i / 8), 0.3};  // equal distances
    if (i % 37 == 5 && s.kind == ShapeKind::box) s.size = {30, 20, 0.1}, s.pose = at({0, 0, -1.5 - 0.01 * static_cast<double>(i)});  // encloses others
    s.name = "thing " + std::to_string(i);
    s.clearance = i % 5 == 0 ? dice.within(0, 0.3) : 0;
    cell.fixtures.push_back(s);
  }
  if (seed % 3 != 1) cell.fixtures.push_back(half_space(at({0, 0, -2})));
  if (seed % 5 == 0 && count > 3) cell.ignored_pairs = {{"thing 3", "elbow"}, {"thing 1", "hand"}};
  if (seed % 9 == 8) {
    const Pose away = at({300, -200, 100});
    (cell.track ? cell.track->pose : cell.mount) = away * (cell.track ? cell.track->pose : cell.mount);
    for (ShapeSpec& s : cell.fixtures) s.pose = away * s.pose;
  }
  return cell;
}

std::vector<const Pose*> spread_frames(const Model& model, Dice& dice, std::size_t count, std::vector<std::vector<Pose>>& frames) {
  frames.assign(count, std::vector<Pose>(model.joint_count));
  std::vector<const Pose*> each;
  for (auto& one : frames) {
    joint_frames(model, posture(model, dice).data(), one.data());
    each.push_back(one.data());
  }
  return each;
}

// Every box is below just one lowest branch, and within the balls of all branches above it.
void check_tree(const Scene& scene) {
  const StillTree& tree = scene.tree;
  REQUIRE(tree.balls.size() == scene.bounded);
  std::vector<int> seen(scene.bounded, 0);
  for (const StillBall& ball : tree.balls) ++seen[static_cast<std::size_t>(ball.which)];
  REQUIRE(std::all_of(seen.begin(), seen.end(), [](int times) { return times == 1; }));
  if (tree.branches.empty()) return;
  std::size_t below_lowest = 0;
  for (std::size_t n = 0; n < tree.branches.size(); ++n) {
    const StillBall& branch = tree.branches[n];
    const Vec3 centre = -0.5 * branch.minus_twice_centre;
    const double radius = -0.5 * branch.minus_twice_radius, kept = -0.5 * branch.kept_minus_twice_radius;
    REQUIRE(branch.next > static_cast<std::int32_t>(n));
    for (auto m = n; m < static_cast<std::size_t>(branch.next); ++m) {
      const std::int32_t first = tree.branches[m].which;
      if (first == none_below) continue;
      if (m == n) below_lowest += static_cast<std::size_t>(tree.end(first) - first);
      for (std::int32_t k = first; k < tree.end(first); ++k) {
        const StillBox& box = scene.still[static_cast<std::size_t>(tree.balls[static_cast<std::size_t>(k)].which)];
        const double rounding = 1e-12 * (1 + norm(centre) + radius);
        REQUIRE(norm(box.centre - centre) + box.radius <= radius + rounding);
        REQUIRE(norm(box.centre - centre) + box.radius + box.kept <= kept + rounding);
      }
    }
  }
  REQUIRE(below_lowest == scene.bounded);
}

void compare(const Scene& scene, const Scene& plain, std::span<const Pose* const> each, double margin) {
  const auto work = make_workspace(scene);
  const std::size_t count = each.size();
  for (const double cutoff : {infinity, 0.15, 0.0, -0.05}) {
    std::vector<Clearance> found(count), all(count);
    least_distances(scene, each, *work, cutoff, found);
    least_distances(plain, each, *work, cutoff, all);
    for (std::size_t k = 0; k < count; ++k) {
      CAPTURE(cutoff, k);
      REQUIRE(same_bits(found[k], all[k]));
    }
  }
  std::vector<std::uint8_t> clear(count), all_clear(count);
  are_clear(scene, each, *work, margin, clear);
  are_clear(plain, each, *work, margin, all_clear);
  REQUIRE(clear == all_clear);
}

double least_of_all(const Scene& scene, const Pose* frames) {
  double least = infinity;
  const auto ask = [&](std::size_t i, std::size_t j) {
    const Solid &a = scene.solids[i], &b = scene.solids[j];
    least = std::min(least, separation(a.shape, pose_of(a, frames), b.shape, pose_of(b, frames), infinity).distance);
  };
  for (const auto* pairs : {&scene.arm_pairs, &scene.plane_pairs})
    for (const SolidPair& pair : *pairs) ask(static_cast<std::size_t>(pair.a), static_cast<std::size_t>(pair.b));
  for (std::size_t i = 0; i < scene.moving; ++i)
    for (std::size_t j = 0; j < scene.bounded; ++j)
      if (scene.still_pairs[i * scene.bounded + j] != Pairing::left_out) ask(i, scene.moving + j);
  return least;
}

}  // namespace

TEST_CASE("with a tree over many fixtures the answers are those of looking at each") {
  for (std::uint64_t seed = 1; seed <= 66; ++seed) {
    Dice dice(seed + 500);
    const std::size_t counts[] = {0, 1, 32, 33, 40, 65, 120, 400};
    const std::size_t many = counts[seed % 8];
    const CellSpec cell = crowded(seed, many);
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    CAPTURE(seed, many);
    CHECK(scene->tree.branches.empty() == (scene->bounded <= 32));
    check_tree(*scene);
    std::vector<std::vector<Pose>> frames;
    const auto each = spread_frames(model, dice, 1 + seed % 19, frames);
    const double margin = seed % 2 == 0 ? 0.04 : 0;
    compare(*scene, *without_tree(*scene), each, margin);
    const auto spare = spare_scene(*scene, margin);
    compare(*spare, *without_tree(*spare), each, margin);
    const auto work = make_workspace(*scene);
    for (std::size_t k = 0; k < each.size(); k += 3)
      REQUIRE(least_distance(*scene, each[k], *work, infinity).distance == Approx(least_of_all(*scene, each[k])).margin(seed % 9 == 8 ? 1e-8 : 1e-9));
    // Moved about the arm, as where a place for it is looked for: there and back.
    auto moved = std::make_shared<Scene>(*scene);
    for (int k = 0; k < 3; ++k) {
      move_surroundings(*moved, *scene, dice.pose(3));
      check_tree(*moved);
      compare(*moved, *without_tree(*moved), each, margin);
    }
    move_surroundings(*moved, *scene, identity_pose);
    compare(*moved, *scene, each, margin);
  }
}

TEST_CASE("of boxes equally near the first is told, wherever it stands in the tree") {
  CellSpec cell = plain_cell();
  for (auto& l : cell.arm.links) l.shapes.clear();
  cell.arm.base_link.shapes.clear();
  cell.arm.links[5].shapes = {sphere(0.05)};
  const Model model = compile(cell);
  std::vector<Pose> frames(6);
  const std::vector<double> q(6, 0.0);
  joint_frames(model, q.data(), frames.data());
  const Vec3 hand = frames[5].position;
  Dice dice(91);
  for (int turn = 0; turn < 20; ++turn) {
    // Cubes along the axes about the hand, all as far from it, among many farther off; in another order each time.
    cell.fixtures.clear();
    for (int i = 0; i < 200; ++i) cell.fixtures.push_back(box({0.1, 0.1, 0.1}, at(hand + dice.within(2, 9) * dice.direction())));
    for (int axis = 0; axis < 3; ++axis)
      for (const double side : {-1.0, 1.0}) cell.fixtures.push_back(box({0.5, 0.5, 0.5}, at(hand + (axis == 0 ? Vec3{side, 0, 0} : axis == 1 ? Vec3{0, side, 0} : Vec3{0, 0, side}))));
    std::shuffle(cell.fixtures.begin(), cell.fixtures.end(), dice.engine);
    std::string first;
    for (std::size_t i = 0; i < cell.fixtures.size(); ++i) {
      cell.fixtures[i].name = "cube " + std::to_string(i);
      if (first.empty() && cell.fixtures[i].size.x == 0.5) first = cell.fixtures[i].name;
    }
    const auto scene = build_scene(cell, model);
    const auto work = make_workspace(*scene);
    const Clearance found = least_distance(*scene, frames.data(), *work, infinity);
    CHECK(found.distance == Approx(0.7).margin(1e-12));
    const auto same = without_tree(*scene);
    CHECK(same_bits(found, least_distance(*same, frames.data(), *work, infinity)));
    // Sums of rounded numbers may differ between the six; of those whose distance is the very same the first counts.
    double least = infinity;
    std::size_t told = 0;
    for (std::size_t j = 0; j < scene->bounded; ++j) {
      const Solid& cube = scene->solids[scene->moving + j];
      auto alone = std::make_shared<Scene>(*same);
      for (std::size_t k = 0; k < scene->bounded; ++k)
        if (k != j) alone->still_pairs[k] = Pairing::left_out;
      const double here = cube.shape.half.x == 0.25 ? least_distance(*alone, frames.data(), *work, infinity).distance : infinity;
      if (here < least) least = here, told = j;
    }
    CHECK(scene->solids[scene->moving + told].name == found.solid_b);
  }
}

TEST_CASE("how many branches are near a place does not grow with the hall") {
  const auto looked_at = [](std::size_t count) {
    Dice dice(17);
    const double side = std::sqrt(static_cast<double>(count));
    CellSpec cell = plain_cell();
    for (std::size_t i = 0; i < count; ++i) {
      const double x = dice.within(-side, side), y = dice.within(-side, side), z = dice.within(0, 2);
      cell.fixtures.push_back(box({0.3, 0.2, 0.3}, at({x, y, z})));
    }
    // Two walls and a floor that enclose all.
    cell.fixtures.push_back(box({2 * side, 2 * side, 0.1}, at({0, 0, -0.2})));
    cell.fixtures.push_back(box({2 * side, 0.1, 3}, at({0, side, 1})));
    cell.fixtures.push_back(box({0.1, 2 * side, 3}, at({side, 0, 1})));
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    double looks = 0;
    for (int k = 0; k < 200; ++k) {
      const Vec3 centre{dice.within(-1, 1), dice.within(-1, 1), dice.within(0, 1.5)};
      const double room = 0.3;
      for (std::int32_t n = 0; n < static_cast<std::int32_t>(scene->tree.branches.size()); looks += 1) {
        const StillBall& branch = scene->tree.branches[static_cast<std::size_t>(n)];
        const double test = branch.offset + dot(branch.minus_twice_centre, centre) + branch.minus_twice_radius * room;
        n = test < room * room - dot(centre, centre) ? n + 1 : branch.next;
      }
    }
    return looks / 200;
  };
  const double small = looked_at(320), large = looked_at(20480);
  CHECK(small < 40);
  CHECK(large < 3 * small);  // of 64 times as many
}
