#include "armwright/clearance/surroundings.hpp"

#include <algorithm>
#include <limits>

namespace armwright {

namespace {

constexpr double touching = 1e-5;  // m: what overlaps by less stands beside

double gap(const Solid& a, const Solid& b, const Pose& pose_b, double cutoff) { return separation(a.shape, a.pose, b.shape, pose_b, cutoff).distance; }

}  // namespace

void seat(Scene& scene, std::size_t j) {
  const Solid& solid = scene.solids[scene.moving + j];
  StillBox& box = scene.still[j];
  const Vec3 &half = solid.shape.box_half, centre = solid.pose * solid.shape.box_centre;
  box = {centre, solid.pose.rotation, half, norm(half), solid.clearance};
  const double reach = norm(centre) + (box.radius + box.kept);
  scene.extent_square = std::max(scene.extent_square, reach * reach);
}

std::shared_ptr<const Scene> with_stand(const Scene& scene, std::span<const std::string> going_along) {
  auto out = std::make_shared<Scene>(scene);
  for (std::size_t i = out->moving; i < out->solids.size(); ++i) {
    Solid& solid = out->solids[i];
    const std::string& name = out->names[static_cast<std::size_t>(solid.name)];
    solid.of_stand = solid.of_stand || std::find(going_along.begin(), going_along.end(), name) != going_along.end();
  }
  return out;
}

void move_surroundings(Scene& moved, const Scene& original, const Pose& shift) {
  moved.extent_square = original.extent_square;
  for (std::size_t i = original.moving; i < original.solids.size(); ++i) {
    if (original.solids[i].of_stand) continue;
    moved.solids[i].pose = shift * original.solids[i].pose;
    const std::size_t j = i - original.moving;
    if (j < original.bounded) seat(moved, j);
  }
  bound_tree(moved);
}

std::vector<StandPair> stand_pairs(const Scene& scene) {
  std::vector<StandPair> pairs;
  for (std::size_t i = scene.moving; i < scene.moving + scene.bounded; ++i) {
    if (!scene.solids[i].of_stand) continue;
    for (std::size_t j = scene.moving; j < scene.solids.size(); ++j) {
      if (scene.solids[j].of_stand) continue;
      const double now = gap(scene.solids[i], scene.solids[j], scene.solids[j].pose, 0);
      pairs.push_back({{static_cast<std::int32_t>(i), static_cast<std::int32_t>(j)}, std::min(now, 0.0)});
    }
  }
  return pairs;
}

bool stand_is_clear(const Scene& moved, std::span<const StandPair> pairs) {
  return std::all_of(pairs.begin(), pairs.end(), [&](const StandPair& one) {
    const Solid &a = moved.solids[static_cast<std::size_t>(one.pair.a)], &b = moved.solids[static_cast<std::size_t>(one.pair.b)];
    return gap(a, b, b.pose, 0) >= one.least - touching;
  });
}

bool stand_keeps_out(const Scene& scene, std::span<const Solid> zones, const Pose& shift) {
  for (std::size_t i = scene.moving; i < scene.moving + scene.bounded; ++i) {
    if (!scene.solids[i].of_stand) continue;
    for (const Solid& zone : zones)
      if (gap(scene.solids[i], zone, shift * zone.pose, 0) < -touching) return false;
  }
  return true;
}

}  // namespace armwright
