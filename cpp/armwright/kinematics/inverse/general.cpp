#include "armwright/kinematics/inverse/general.hpp"

#include "armwright/kinematics/inverse/general/approach.hpp"
#include "armwright/kinematics/inverse/general/degenerate.hpp"
#include "armwright/kinematics/inverse/general/search.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

// What some ways taken together have found, and how far it can be trusted.
struct Verdict {
  int taken = 0, agreeing = 0;
  unsigned searched = 0;  ///< joints whose angle was the unknown: the same again would only repeat the doubt
  Outcome last = Outcome::lost;
};

// One way more. True if no further way is needed: it left no doubt, or it is the second one that agrees with what is
// known and leaves only the doubt that comes with a singular posture.
bool take_way(const GeneralSetup& setup, std::size_t rank, const Loop& loop, const Pose& target, Solutions& out, Verdict& v) {
  Solutions mine;
  v.last = search_ring(setup, rank, loop, target, mine);
  ++v.taken;
  const int before = out.count;
  for (int k = 0; k < mine.count; ++k) add_answer(setup.chain, out, mine.solution[static_cast<std::size_t>(k)]);
  if (out.count > before) v.agreeing = 0;
  if (mine.count < out.count) return false;  // it missed what others have found
  if (out.count == 0 && v.taken == 1) return false;  // that there is no answer is said by two
  return v.last == Outcome::sure || (v.last == Outcome::fair && ++v.agreeing == 2);
}

// `thorough`: if they leave doubt, the ways that are good for little are tried too.
Outcome solve_ways(const GeneralSetup& setup, const Pose& target, bool thorough, Solutions& out) {
  const Loop loop = loop_for(setup, target);
  Verdict v;
  for (std::size_t w = 0; w < setup.good_count; ++w) {
    const unsigned bit = 1U << setup.way[w].joint(2);
    if (v.searched & bit) continue;
    v.searched |= bit;
    if (take_way(setup, w, loop, target, out, v)) return v.last == Outcome::sure && v.taken == 1 ? Outcome::sure : Outcome::fair;
  }
  // An arm with one way of any use: what is always in doubt there says nothing.
  if (v.taken == 1 && v.last == Outcome::fair) return Outcome::fair;
  if (!thorough) return Outcome::lost;
  for (std::size_t w = 0; w < setup.way_count; ++w) {
    const unsigned bit = 1U << setup.way[w].joint(2);
    if (v.searched & bit) continue;
    v.searched |= bit;
    take_way(setup, w, loop, target, out, v);
  }
  return Outcome::lost;
}

// Where the pose itself is degenerate, poses next to it are not: their answers are brought to the pose. Opposite
// neighbours, because a pair of answers that meets at the pose is real on one side only.
void add_from_neighbours(const GeneralSetup& setup, const Pose& target, Solutions& out) {
  constexpr double turn = 1.3e-3, shift = 0.9e-3;  // rad, unit lengths
  constexpr std::array<Vec3, 6> axes{Vec3{0.36, 0.48, 0.8},   Vec3{-0.64, 0.6, -0.48}, Vec3{0.48, -0.8, 0.36},
                                     Vec3{0.6, 0.64, -0.48}, Vec3{-0.8, -0.36, 0.48}, Vec3{0.48, 0.36, -0.8}};
  int count = 0;
  for (const Vec3& axis : axes) {
    if (++count > 2 && out.count > 0) break;
    const double scale = count % 2 == 1 ? 1 : 0.01;  // an arm that is nearly degenerate asks for a short way
    for (const double side : {1.0, -1.0}) {
      const Vec3 across{-axis.z, axis.x, axis.y};
      const Pose near{turn_about(axis, side * scale * turn) * target.rotation, target.position + (side * scale * shift * setup.size) * across};
      Solutions there;
      solve_ways(setup, near, false, there);
      for (int k = 0; k < there.count; ++k) {
        Solution s = there.solution[static_cast<std::size_t>(k)];
        if (!bring_to(setup.chain, setup.size, target, 0, s.q)) {
          s.q = there.solution[static_cast<std::size_t>(k)].q;
          if (!seek(setup.chain, setup.size, target, 0, s.q)) continue;
        }
        add_answer(setup.chain, out, s);
      }
    }
    settle_degenerate(setup.chain, setup.size, target, 0, out);  // makes room
  }
}

// The last resort, for curves of answers that no way has met: Newton from spread postures.
void add_from_trials(const GeneralSetup& setup, const Pose& target, Solutions& out) {
  constexpr int tries = 64;
  for (int k = 0; k < tries && out.count == 0; ++k) {
    Solution s;
    s.q = trial_posture(setup, k);
    if (seek(setup.chain, setup.size, target, 0, s.q)) add_answer(setup.chain, out, s);
  }
}

}  // namespace

bool solve_one_way(const GeneralSetup& setup, std::size_t way, const Pose& target, Solutions& out) {
  out.count = 0;
  return search_ring(setup, way, loop_for(setup, target), target, out) == Outcome::sure;
}

void solve_general(const GeneralSetup& setup, const Pose& target, Solutions& out, double free_value) {
  out.count = 0;
  const Outcome outcome = solve_ways(setup, target, true, out);
  if (outcome == Outcome::sure) return;
  if (outcome == Outcome::lost) {
    add_from_neighbours(setup, target, out);
    if (out.count == 0) add_from_trials(setup, target, out);
  }
  settle_degenerate(setup.chain, setup.size, target, free_value, out);
}

}  // namespace armwright
