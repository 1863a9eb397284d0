#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "armwright/model/cell_spec.hpp"
#include "armwright/model/model.hpp"

namespace armwright {

/// "" if the Bullet library that is linked counts in doubles and answers rightly, otherwise what is wrong. A library
/// built for single precision links and runs too, and answers "no collision": so the package asks at its start.
std::string self_test();

/// All solids of a cell, made ready for distances: the arm's (by link), the tool's and the load's (on the last
/// joint's frame), and the fixtures; and the list of pairs to be looked at. Constant once built; shared by threads.
struct Scene;  // defined in scene_data.hpp

/// The least distance of a posture: signed, negative when two solids overlap (then its size is how far one of them
/// must be moved to part them), with the two nearest points in the world and the two names.
struct Clearance {
  double distance;             ///< m
  Vec3 point_a, point_b;       ///< on the moving solid, on the other; world, m
  std::int32_t solid_a, solid_b;  ///< indices into solid_names()
};

/// Builds the scene. Pairs of links that touch by design are found here once: neighbours on the chain, and links that
/// overlap in all of a fixed set of postures spread over the joint ranges; they are listed by touching_pairs().
/// Throws Refused for a shape without volume, an open mesh, numbers that are not finite.
std::shared_ptr<const Scene> build_scene(const CellSpec& cell, const Model& model);

std::span<const std::string> solid_names(const Scene& scene);
/// Name pairs left out because they touch by design, or keep one distance whatever the posture.
std::vector<std::pair<std::string, std::string>> touching_pairs(const Scene& scene);

/// Scratch of one thread.
struct ClearanceWorkspace;  // defined in scene_data.hpp
std::shared_ptr<ClearanceWorkspace> make_workspace(const Scene& scene);

/// Least distance of one posture. `frames`: joint frames in the world (see joint_frames()). With nothing to compare
/// the distance is +infinity and the indices -1. Distances above `cutoff` need not be exact: any value >= cutoff may
/// be returned for them.
Clearance least_distance(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double cutoff);

/// Whether every pair keeps its required distance: the fixture's own clearance or `margin`, whichever is larger.
bool is_clear(const Scene& scene, const Pose* frames, ClearanceWorkspace& work, double margin);

/// The same for several postures, their joint frames one pointer each: found side by side in lanes, a pack of postures
/// against one solid at a time, which takes about as long for a whole pack as for one posture. Postures that are alike
/// stand best together. Each answer is, bit for bit, that of the posture alone. `margin` and `cutoff` are one for all.
void least_distances(const Scene& scene, std::span<const Pose* const> frames, ClearanceWorkspace& work, double cutoff, std::span<Clearance> out);
void are_clear(const Scene& scene, std::span<const Pose* const> frames, ClearanceWorkspace& work, double margin, std::span<std::uint8_t> out);

/// The pair that falls short of its required distance by most, and that distance: what stands in the way of a posture
/// that is not clear, which need not be the nearest pair. Every pair is asked: for telling, not for searching.
struct Obstacle {
  Clearance clearance{};
  double required = 0;  ///< m
};
Obstacle worst_obstacle(const Scene& scene, const Pose* frames, double margin);

/// The same solids, with every distance told less what its pair is to keep (the fixture's own clearance or `margin`): what
/// least_distance() gives for it is negative where some pair falls short, and then tells the one that does so by most. Not for is_clear().
std::shared_ptr<const Scene> spare_scene(const Scene& scene, double margin);

/// Batches over joint vectors, row by row.
void least_distances(const Scene& scene, const Model& model, std::span<const double> q, std::span<Clearance> out);
/// The same, handed over some hundred rows at a time: take(first row, answers).
void least_distances(const Scene& scene, const Model& model, std::span<const double> q,
                     const std::function<void(std::size_t first, std::span<const Clearance> found)>& take);
void are_clear(const Scene& scene, const Model& model, std::span<const double> q, double margin, std::span<std::uint8_t> out);

}  // namespace armwright
