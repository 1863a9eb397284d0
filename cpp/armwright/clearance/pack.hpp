#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "armwright/clearance/scene_data.hpp"

// A pack of postures, one a lane, and what is found out about it. All of the first stage runs on packs: a solid that stands
// still is then one and the same for all lanes, and so is each decision of which pairs to leave aside.

namespace armwright {

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
  std::array<double, widest_pack> margin{};  ///< m, what the posture of each lane is to keep
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
void screen_clear(const Scene& scene, ClearanceWorkspace& work);

/// Seats rows first .. first + count - 1 of a batch, 1 to pack_width() of them.
using Seat = std::function<void(std::size_t first, std::size_t count)>;
/// Whether each posture of a batch is clear by its own margin, and the least distances: see scene.hpp.
void are_clear(const Scene& scene, ClearanceWorkspace& work, std::span<const double> margins, std::span<std::uint8_t> out, const Seat& seat);
void least_distances(const Scene& scene, ClearanceWorkspace& work, std::span<Clearance> out, const Seat& seat);

/// Vectors of lanes from numbers side by side, and back.
template <class T>
ARMWRIGHT_INLINE Vector3<T> load_vector(const double* from) {
  return {load_run<T>(from), load_run<T>(from + widest_pack), load_run<T>(from + 2 * widest_pack)};
}
template <class T>
ARMWRIGHT_INLINE void store_vector(const Vector3<T>& v, double* to) {
  store_run(v.x, to), store_run(v.y, to + widest_pack), store_run(v.z, to + 2 * widest_pack);
}

/// Seats a pack of joint frames.
template <class T>
ARMWRIGHT_INLINE void seat_frames(const Pose3<T>* frames, std::size_t joints, ClearanceWorkspace& work) {
  for (std::size_t joint = 0; joint < joints; ++joint) {
    double* to = &work.frames[joint * 12 * widest_pack];
    const auto& [R, p] = frames[joint];
    store_vector(R.x, to), store_vector(R.y, to + 3 * widest_pack), store_vector(R.z, to + 6 * widest_pack), store_vector(p, to + 9 * widest_pack);
  }
}

}  // namespace armwright
