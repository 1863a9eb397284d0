#include "catch_shim.hpp"

#include <limits>

#include "armwright/clearance/scene_data.hpp"
#include "armwright/kinematics/chain.hpp"
#include "cells.hpp"

// Postures side by side are held to one posture alone, bit for bit, and that to asking every pair the plain way.

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// Of a posture, every pair asked: the least of distance less what is to be kept, and the least distance.
struct Plain {
  double least = infinity, spare = infinity;
};

Plain asked_plainly(const Scene& scene, const Pose* frames, double margin) {
  std::vector<SolidPair> pairs = scene.plane_pairs;
  pairs.insert(pairs.end(), scene.arm_pairs.begin(), scene.arm_pairs.end());
  for (std::size_t i = 0; i < scene.moving; ++i)
    for (std::size_t j = 0; j < scene.bounded; ++j)
      if (scene.still_pairs[i * scene.bounded + j] != Pairing::left_out)
        pairs.push_back({static_cast<std::int32_t>(i), static_cast<std::int32_t>(scene.moving + j)});
  Plain plain;
  for (const SolidPair& pair : pairs) {
    const Solid &a = scene.solids[static_cast<std::size_t>(pair.a)], &b = scene.solids[static_cast<std::size_t>(pair.b)];
    const double here = separation(a.shape, pose_of(a, frames), b.shape, pose_of(b, frames), infinity).distance;
    plain.least = std::min(plain.least, here);
    plain.spare = std::min(plain.spare, here - required(scene, pair, margin));
  }
  return plain;
}

CellSpec crowded(std::uint64_t seed) {
  Dice dice(seed);
  CellSpec cell = plain_cell();
  if (seed % 2 == 0) cell.track = test_track();
  if (seed % 3 == 0) cell.arm.links[5].shapes.push_back(sphere(0.05, at({0.1, 0, 0})));
  if (seed % 4 == 0) cell.arm.links[3].shapes.push_back(hull(box_corners({0.2, 0.1, 0.1})));
  strew(cell, dice, 6 + seed % 12, seed % 2 == 1);
  if (seed % 3 != 1) cell.fixtures.push_back(half_space(at({0, 0, -0.5}, turn_about(x_axis, 0.02 * static_cast<double>(seed % 5)))));
  // Touching, and in the very middle of an axis-parallel posture's forearm: faces and segments that are parallel.
  cell.fixtures.push_back(box({0.2, 0.2, 0.1}, at({0.4, 0, 0.8})));
  cell.fixtures.back().name = "slab";
  if (seed % 5 == 0) cell.ignored_pairs = {{"slab", "elbow"}, {"column", "hand"}};
  // Far from the origin rounding is coarser.
  if (seed % 7 == 0) {
    const Pose away = at({300, -200, 100});
    (cell.track ? cell.track->pose : cell.mount) = away * (cell.track ? cell.track->pose : cell.mount);
    for (ShapeSpec& s : cell.fixtures) s.pose = away * s.pose;
  }
  return cell;
}

}  // namespace

TEST_CASE("postures side by side have the answers of each alone, and those are the plain ones") {
  int blocked = 0, clear = 0;
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    const CellSpec cell = crowded(seed);
    const Model model = compile(cell);
    const auto scene = build_scene(cell, model);
    const double rounding = seed % 7 == 0 ? 1e-8 : 1e-9;
    const double margin = seed % 2 == 0 ? 0.03 : 0;
    const auto spare = spare_scene(*scene, margin);
    const auto work = make_workspace(*scene), alone = make_workspace(*scene);
    Dice dice(seed + 50);
    for (std::size_t count = 0; count <= 17; ++count) {
      std::vector<std::vector<Pose>> frames(count);
      std::vector<const Pose*> each(count);
      for (std::size_t k = 0; k < count; ++k) {
        std::vector<double> q = posture(model, dice);
        if (k % 3 == 0) std::fill(q.begin(), q.end(), 0.0);        // along the world's axes
        if (k % 3 == 1 && k > 1) q = posture(model, dice), q[0] = 0;
        frames[k].resize(model.joint_count);
        joint_frames(model, q.data(), frames[k].data());
        each[k] = frames[k].data();
      }
      std::vector<Clearance> least(count), least_spare(count);
      std::vector<std::uint8_t> are(count, 2), exactly(count, 2);
      least_distances(*scene, each, *work, infinity, least);
      least_distances(*spare, each, *work, infinity, least_spare);
      are_clear(*scene, each, *work, margin, are);
      for (std::size_t k = 0; k < count; ++k) {
        CAPTURE(seed, count, k);
        const Plain plain = asked_plainly(*scene, each[k], margin);
        REQUIRE(std::fabs(least[k].distance - plain.least) <= rounding);
        REQUIRE(std::fabs(least_spare[k].distance - plain.spare) <= rounding);
        REQUIRE(std::fabs(norm(least[k].point_a - least[k].point_b) - std::fabs(least[k].distance)) <= rounding);
        if (std::fabs(plain.spare + just_kept) > rounding) REQUIRE((are[k] == 1) == (plain.spare >= -just_kept));
        REQUIRE(same_bits(least[k], least_distance(*scene, each[k], *alone, infinity)));
        REQUIRE(same_bits(least_spare[k], least_distance(*spare, each[k], *alone, infinity)));
        REQUIRE((are[k] == 1) == is_clear(*scene, each[k], *alone, margin));
        // Just at, and on either side of, what there is.
        for (const double off : {-1e-7, 0.0, 1e-7}) {
          const double asked = std::max(0.0, plain.least + off);
          if (std::fabs(asked_plainly(*scene, each[k], asked).spare + just_kept) > rounding)
            REQUIRE(is_clear(*scene, each[k], *alone, asked) == (asked_plainly(*scene, each[k], asked).spare >= -just_kept));
        }
        (are[k] == 1 ? clear : blocked) += 1;
        const double cutoff = dice.within(-0.1, 0.2);
        const double cut = least_distance(*scene, each[k], *alone, cutoff).distance;
        REQUIRE((plain.least < cutoff ? std::fabs(cut - plain.least) <= rounding : cut >= cutoff));
      }
    }
  }
  CHECK(clear > 300);
  CHECK(blocked > 300);
}

TEST_CASE("of pairs equally near the first is told, whatever stands beside it") {
  // Two boxes as far to the left as to the right of a straight arm, and the arm's own links all in a row.
  CellSpec cell = plain_cell();
  for (auto& l : cell.arm.links) l.shapes.clear();
  cell.arm.base_link.shapes.clear();
  cell.arm.links[5].shapes = {sphere(0.05)};
  for (const double side : {1.0, -1.0}) {
    cell.fixtures.push_back(box({0.5, 0.5, 3}, at({0.6, 0.75 * side, 1})));
    cell.fixtures.back().name = side > 0 ? "left" : "right";
  }
  const Model model = compile(cell);
  const auto scene = build_scene(cell, model);
  const std::vector<double> q(6 * 9, 0.0);
  std::vector<Clearance> out(9);
  least_distances(*scene, model, q, out);
  for (const Clearance& one : out) {
    CHECK(one.distance == Approx(0.45));
    CHECK(solid_names(*scene)[static_cast<std::size_t>(one.solid_b)] == "left");
  }
}
