#pragma once

#include <cstddef>
#include <limits>
#include <span>

#include "armwright/clearance/pack.hpp"

// The second stage: the distances of the candidates that the first stage leaves, and which of them is the least. Pairs of a
// closed form wait until a pack of them is full, whatever postures they are of. The first stage tells distances to rounding
// only; so all that are within that of the least are settled here, and of equal ones the first pair counts: what is told
// of a posture depends neither on the postures beside it nor on what was asked before.

namespace armwright {

/// Pairs that wait. Of each: two segments (or a segment and a box: centre, axes, half edges), radii, what is to be kept.
struct Waiting {
  static constexpr std::size_t most_numbers = 23;
  double number[most_numbers][widest_pack];
  SolidPair pair[widest_pack];
  std::size_t row[widest_pack];
  std::size_t count = 0;
};

/// The second stage of a batch. Until told() the solids in `out` are places in scene.solids.
class Settler {
 public:
  Settler(const Scene& scene, double cutoff, std::span<Clearance> out);
  /// Takes what screen_nearest() left of the pack whose first posture is row `first`.
  void take(ClearanceWorkspace& work, std::size_t first);
  /// Settles what still waits, and names the solids.
  void finish();

 private:
  void add_segments(const ClearanceWorkspace& work, const Candidate& candidate, std::size_t row);
  void add_box(const ClearanceWorkspace& work, const Candidate& candidate, std::size_t row);
  void ask_plainly(ClearanceWorkspace& work, std::size_t first, std::size_t count);
  void settle(Waiting& waiting, bool boxes);
  void offer(const Separation& found, const SolidPair& pair, std::size_t row);

  const Scene& scene_;
  std::span<Clearance> out_;
  Waiting segments_, boxes_;
};

/// As the scene tells it: less what the pair is to keep, where it tells the spare.
Separation told(const Scene& scene, const Pose* frames, const SolidPair& pair, double cutoff);
Separation plain_separation(const Scene& scene, const Pose* frames, const SolidPair& pair, double cutoff);

}  // namespace armwright
