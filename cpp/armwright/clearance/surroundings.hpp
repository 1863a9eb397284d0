#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "armwright/clearance/scene_data.hpp"

namespace armwright {

// The arm stood elsewhere, without building its scene anew. As seen from the arm it stays and its surroundings move: what
// stands still is either of its stand (the base; the rails of a track; fixtures that go along with it, as a pedestal) or
// of the surroundings.

/// The same solids; the fixtures of those names count to the stand.
std::shared_ptr<const Scene> with_stand(const Scene& scene, std::span<const std::string> going_along);

/// Moves the surroundings of `moved`, a copy of `original`, to `shift` · where they are in `original`, the world's frame
/// staying the one in which joint frames are told.
void move_surroundings(Scene& moved, const Scene& original, const Pose& shift);

/// A solid of the stand and one of the surroundings, and how near they may come: to touch, or to overlap as deep as they
/// do in the scene that was built, m (0 or less).
struct StandPair {
  SolidPair pair;
  double least;
};
std::vector<StandPair> stand_pairs(const Scene& scene);

/// Whether no part of the stand overlaps the surroundings where they have been moved to.
bool stand_is_clear(const Scene& moved, std::span<const StandPair> pairs);

/// Whether no part of the stand overlaps `zones`, solids in the world, moved by `shift`.
bool stand_keeps_out(const Scene& scene, std::span<const Solid> zones, const Pose& shift);

}  // namespace armwright
