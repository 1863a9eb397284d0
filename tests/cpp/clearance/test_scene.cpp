#include "catch_shim.hpp"

#include <algorithm>
#include <set>

#include "armwright/clearance/scene.hpp"
#include "armwright/clearance/scene_data.hpp"
#include "armwright/kinematics/chain.hpp"
#include "cells.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

using Names = std::set<std::pair<std::string, std::string>>;
Names touching(const Scene& scene) {
  Names names;
  for (const auto& [a, b] : touching_pairs(scene)) names.insert(std::minmax(a, b));
  return names;
}

// Every pair that the scene looks at, one after the other, nothing pruned.
std::vector<SolidPair> all_pairs(const Scene& scene) {
  std::vector<SolidPair> pairs = scene.plane_pairs;
  pairs.insert(pairs.end(), scene.arm_pairs.begin(), scene.arm_pairs.end());
  for (std::size_t i = 0; i < scene.moving; ++i)
    for (std::size_t j = 0; j < scene.bounded; ++j)
      if (scene.still_pairs[i * scene.bounded + j] != Pairing::left_out)
        pairs.push_back({static_cast<std::int32_t>(i), static_cast<std::int32_t>(scene.moving + j)});
  return pairs;
}

double brute_force(const Scene& scene, const Pose* frames) {
  double least = infinity;
  for (const auto& pair : all_pairs(scene)) {
    const Solid &a = scene.solids[static_cast<std::size_t>(pair.a)], &b = scene.solids[static_cast<std::size_t>(pair.b)];
    least = std::min(least, separation(a.shape, pose_of(a, frames), b.shape, pose_of(b, frames), infinity).distance);
  }
  return least;
}

bool brute_clear(const Scene& scene, const Pose* frames, double margin) {
  for (const auto& pair : all_pairs(scene)) {
    const Solid &a = scene.solids[static_cast<std::size_t>(pair.a)], &b = scene.solids[static_cast<std::size_t>(pair.b)];
    if (separation(a.shape, pose_of(a, frames), b.shape, pose_of(b, frames), infinity).distance < std::max(margin, b.clearance) - just_kept) return false;
  }
  return true;
}

CellSpec full_cell(std::uint64_t seed, bool boxes_only) {
  Dice dice(seed);
  CellSpec cell = plain_cell();
  if (seed % 2 == 0) cell.track = test_track();
  cell.tool.name = "fork";
  cell.tool.shapes = {box({0.04, 0.2, 0.04}, at({0.03, 0, 0}))};
  LoadSpec load;
  load.name = "ware";
  load.shapes = {cylinder(0.08, 0.15, at({0.1, 0, 0}))};
  cell.load = load;
  strew(cell, dice, boxes_only ? 20 : 12, boxes_only);
  ShapeSpec floor = half_space(at({0, 0, -0.4}));
  floor.name = "floor";
  cell.fixtures.push_back(floor);
  return cell;
}

}  // namespace

TEST_CASE("pairs joined by design are found and listed") {
  const CellSpec cell = full_cell(2, true);
  const Model model = compile(cell);
  const auto scene = build_scene(cell, model);
  const Names names = touching(*scene);
  for (const auto& [a, b] : std::vector<std::pair<std::string, std::string>>{{"column", "foot"}, {"carriage", "foot"}, {"carriage", "track rails"}, {"column", "upper arm"},
                                                                             {"elbow", "upper arm"}, {"fork", "hand"}, {"fork", "ware"}, {"hand", "ware"}}) {
    CAPTURE(a, b);
    CHECK(names.count(std::minmax(a, b)) == 1);
  }
  CHECK(names.count({"foot", "upper arm"}) == 0);
  CHECK(names.count({"hand", "upper arm"}) == 0);
}

TEST_CASE("links that overlap in every posture touch by design; those that do so sometimes do not") {
  CellSpec cell = plain_cell();
  cell.arm.links[1].shapes.push_back(sphere(0.2, at({0, 0, 0})));  // the upper arm's hub reaches into the foot
  cell.arm.base_link.shapes.push_back(sphere(0.3, at({0, 0, 0.3})));
  const Model model = compile(cell);
  CHECK(touching(*build_scene(cell, model)).count({"foot", "upper arm"}) == 1);
  CHECK(touching(*build_scene(cell, model)).count({"elbow", "foot"}) == 0);
}

TEST_CASE("pruned distances are those of all pairs, one by one") {
  int overlaps = 0;
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    const CellSpec cell = full_cell(seed, seed <= 2);
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    const auto work = make_workspace(*scene);
    Dice dice(seed + 100);
    for (int i = 0; i < 300; ++i) {
      const auto q = posture(model, dice);
      Pose frames[max_joints];
      joint_frames<double>(model, q.data(), frames);
      const double expected = brute_force(*scene, frames);
      const Clearance found = least_distance(*scene, frames, *work, infinity);
      overlaps += expected < 0;
      CAPTURE(seed, i);
      REQUIRE(std::fabs(found.distance - expected) <= 1e-9);
      REQUIRE(std::fabs(norm(found.point_a - found.point_b) - std::fabs(found.distance)) <= 1e-9);
      const double cutoff = dice.within(-0.1, 0.3);
      const double cut = least_distance(*scene, frames, *work, cutoff).distance;
      REQUIRE((expected < cutoff ? std::fabs(cut - expected) <= 1e-9 : cut >= cutoff));
      for (const double margin : {0.0, 0.02, 0.1, found.distance, found.distance + 1e-7, found.distance - 1e-7})
        REQUIRE(is_clear(*scene, frames, *work, margin) == brute_clear(*scene, frames, margin));
    }
  }
  CHECK(overlaps > 300);
  CHECK(overlaps < 1500);
}

TEST_CASE("batches give what single postures give, whatever was asked before, bit for bit") {
  const CellSpec cell = full_cell(4, false);
  const Model model = compile(cell);
  const auto scene = build_scene(cell, model);
  Dice dice(5);
  std::vector<double> q;
  for (int i = 0; i < 101; ++i)
    for (const double x : posture(model, dice)) q.push_back(x);
  std::vector<Clearance> forward(101), again(101), single(1);
  least_distances(*scene, model, q, forward);
  std::vector<std::uint8_t> clear(101);
  are_clear(*scene, model, q, 0.03, clear);
  for (std::size_t i = 101; i-- > 0;) {
    least_distances(*scene, model, std::span(q).subspan(i * model.joint_count, model.joint_count), single);
    REQUIRE(same_bits(single[0], forward[i]));
  }
  least_distances(*scene, model, q, again);
  for (std::size_t i = 0; i < 101; ++i) REQUIRE(same_bits(again[i], forward[i]));
}

TEST_CASE("nothing to compare is infinitely far") {
  CellSpec cell = plain_cell();
  for (auto& l : cell.arm.links) l.shapes.clear();
  cell.arm.base_link.shapes.clear();
  for (const bool with_fixture : {false, true}) {
    if (with_fixture) cell.fixtures = {box({1, 1, 1}), half_space()};
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    const std::vector<double> q(6, 0.1);
    std::vector<Clearance> out(1);
    least_distances(*scene, model, q, out);
    CHECK(out[0].distance == infinity);
    CHECK(out[0].solid_a == -1);
    std::vector<std::uint8_t> clear(1);
    are_clear(*scene, model, q, 1e9, clear);
    CHECK(clear[0] == 1);
  }
}

TEST_CASE("a fixture's own clearance is kept, and only for it") {
  CellSpec cell = plain_cell();
  cell.fixtures = {box({0.1, 0.1, 0.1}, at({0, 0, 1.03}))};  // just over the elbow
  const std::vector<double> q{0, 0, 0, 0, 0, 0};
  const auto ask = [&](double clearance, double margin) {
    cell.fixtures[0].clearance = clearance;
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    std::vector<std::uint8_t> out(1);
    are_clear(*scene, model, q, margin, out);
    return out[0] == 1;
  };
  const Model model = compile(cell);
  std::vector<Clearance> out(1);
  least_distances(*build_scene(cell, model), model, q, out);
  const double d = out[0].distance;
  REQUIRE(d > 0.001);
  CHECK(ask(0, d - 1e-6));
  CHECK_FALSE(ask(0, d + 1e-6));
  CHECK(ask(d - 1e-6, 0));
  CHECK_FALSE(ask(d + 1e-6, 0));
}

TEST_CASE("pairs that the user leaves out are left out, by either kind of name") {
  CellSpec cell = plain_cell();
  cell.fixtures = {box({4, 4, 4})};
  cell.fixtures[0].name = "block";
  const auto worst = [&] {
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    std::vector<Clearance> out(1);
    least_distances(*scene, model, std::vector<double>(6, 0.3), out);
    return out[0];
  };
  CHECK(worst().distance < 0);
  for (const char* name : {"column", "upper arm", "elbow", "forearm", "wrist", "hand"}) cell.ignored_pairs.emplace_back("block", name);
  CHECK(worst().distance > 0);
}

TEST_CASE("what falls short by most tells whether a posture is clear, and is no nearer than the nearest pair") {
  Dice dice(11);
  CellSpec cell = plain_cell();
  strew(cell, dice, 13, false);
  cell.fixtures.push_back(half_space());
  const Model model = compile(cell);
  const auto scene = build_scene(cell, model);
  const auto work = make_workspace(*scene);
  int clear = 0, elsewhere = 0;
  for (int k = 0; k < 2000; ++k) {
    const auto q = posture(model, dice);
    std::vector<Pose> frames(model.joint_count);
    joint_frames(model, q.data(), frames.data());
    const double margin = k % 2 == 0 ? 0 : 0.03;
    const Obstacle worst = worst_obstacle(*scene, frames.data(), margin);
    const Clearance nearest = least_distance(*scene, frames.data(), *work, infinity);
    const bool is = is_clear(*scene, frames.data(), *work, margin);
    CHECK(is == (worst.clearance.distance >= worst.required));
    CHECK(worst.clearance.distance >= nearest.distance - 1e-9);
    clear += is;
    elsewhere += worst.clearance.distance > nearest.distance + 1e-6;
  }
  CHECK(clear > 20);
  CHECK(elsewhere > 20);
}

TEST_CASE("a scene that tells the spare: the least over all pairs of distance less what is to be kept") {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    CellSpec cell = full_cell(seed, seed % 3 == 0);
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    const double margin = seed % 2 == 0 ? 0.03 : 0;
    const auto spare = spare_scene(*scene, margin);
    const auto work = make_workspace(*spare);
    Dice dice(seed);
    for (int k = 0; k < 40; ++k) {
      const std::vector<double> q = posture(model, dice);
      std::vector<Pose> frames(model.joint_count);
      joint_frames(model, q.data(), frames.data());
      const Obstacle worst = worst_obstacle(*scene, frames.data(), margin);  // asks every pair
      const Clearance found = least_distance(*spare, frames.data(), *work, infinity);
      CHECK(found.distance == Approx(worst.clearance.distance - worst.required).margin(1e-9));
      CHECK((found.distance >= -just_kept) == is_clear(*scene, frames.data(), *make_workspace(*scene), margin));
    }
  }
}
