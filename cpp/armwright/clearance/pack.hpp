#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <vector>

#include "armwright/clearance/scene_data.hpp"

// A pack of postures, one a lane, and what is found out about it. All of the first stage runs on packs: a solid that stands
// still is then one and the same for all lanes, and so is each decision of which pairs to leave aside.

namespace armwright {

inline constexpr std::size_t widest_pack = 8;

/// How the second stage tells a pair's distance.
enum class Settling : std::uint8_t {
  segments,  ///< two capsules or spheres whose cores are apart
  box,       ///< a capsule or sphere and a box that stands still, the cores apart
  plain,     ///< anything else
};

struct Candidate {
  double bound;  ///< m, what is told of the pair is no less, to rounding
  SolidPair pair;
  std::int32_t lane;
  Settling settling;
};

/// Scratch of one thread; nothing in it outlives a call.
struct ClearanceWorkspace {
  std::size_t lanes = 0;                   ///< of the pack; the others repeat the first
  std::size_t joints = 0;                  ///< whose frames are seated
  std::vector<double> frames;              ///< [joint][12][lane]: the frame's axes and origin in the world
  std::vector<double> segments;            ///< [moving][6][lane]: centre and half the way of the segments in the world
  std::vector<double> arm_told;            ///< [arm pair][lane]: distances of pairs that may be the nearest, m
  std::unique_ptr<Candidate[]> candidates; ///< room for every pair in every lane; what is not written to takes no memory
  std::size_t candidate_count = 0;
  std::array<double, widest_pack> best{};  ///< m, what is told is no more
  std::array<double, widest_pack> slack{}; ///< m, more than rounding can have done to a distance
  std::array<bool, widest_pack> blocked{};
  std::vector<Pose> of_one;                ///< the joint frames of one lane
};

/// Seats the joint frames of `count` postures (1 to pack_width()) in the lanes of the workspace.
void seat_pack(const Pose* const* frames, std::size_t count, std::size_t joints, ClearanceWorkspace& work);
/// The same from joint vectors: `count` rows of them.
void seat_pack(const Model& model, const double* q, std::size_t count, ClearanceWorkspace& work);
/// How many postures a pack holds on this processor.
std::size_t pack_width();
/// The joint frames of one lane, as long as the workspace keeps them.
const Pose* frames_of(ClearanceWorkspace& work, std::size_t lane);

/// The first stage of the least distance, for every lane: what it is no more than, and candidates that may be as near.
void screen_nearest(const Scene& scene, ClearanceWorkspace& work, double cutoff);
/// The first stage of the yes/no question: lanes that are blocked, and candidates that may block the others.
void screen_clear(const Scene& scene, ClearanceWorkspace& work, double margin);

/// Vectors of lanes from numbers side by side, and back.
template <class T>
ARMWRIGHT_INLINE Vector3<T> load_vector(const double* from) {
  return {load_run<T>(from), load_run<T>(from + widest_pack), load_run<T>(from + 2 * widest_pack)};
}
template <class T>
ARMWRIGHT_INLINE void store_vector(const Vector3<T>& v, double* to) {
  store_run(v.x, to), store_run(v.y, to + widest_pack), store_run(v.z, to + 2 * widest_pack);
}

}  // namespace armwright
