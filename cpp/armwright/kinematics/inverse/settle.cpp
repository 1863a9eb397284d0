#include "armwright/kinematics/inverse/settle.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/kinematics/inverse/polish.hpp"

namespace armwright {

namespace {

constexpr double fine = 1e-12;           // m, rad: as good as a step of refinement makes it
constexpr double holds = 1e-10 * 1e-10;  // m², rad²

Solution branch_of(const Branches::Pack& pack, std::size_t k, bool mirrored) {
  Solution s;
  for (std::size_t i = 0; i < 6; ++i) s.q[mirrored ? 5 - i : i] = pack.q[i][k];
  const std::int8_t free = pack.free_joint[k];
  s.free_joint = mirrored && free >= 0 ? static_cast<std::int8_t>(5 - free) : free;
  return s;
}

double distance(const Solution& a, const Solution& b) {
  double most = 0;
  for (std::size_t i = 0; i < 6; ++i) most = std::max(most, std::fabs(wrapped(a.q[i] - b.q[i])));
  return most;
}

// The branch that stands nearest to the given answer.
bool nearest_branch(const Branches& branches, bool mirrored, Solution& s) {
  double least = 0.5;  // rad; farther away it is another one
  Solution nearest;
  for (std::size_t p = 0; p < branches.count; ++p) {
    for (std::size_t k = 0; k < 4; ++k) {
      if (!(branches.pack[p].miss[k] < branches.worth_polishing)) continue;
      const Solution there = branch_of(branches.pack[p], k, mirrored);
      const double away = distance(there, s);
      if (away < least) {
        least = away;
        nearest = there;
      }
    }
  }
  if (least < 0.5) s = nearest;
  return least < 0.5;
}

// Where the closed form's geometry is a little off: solved again for the target, moved by what the exact chain
// missed it by. The misfit shrinks by the ratio of the geometry's misfit to the distance from a singular posture
// each time; Newton steps need that distance squared.
bool solve_again(const InverseSetup& setup, const Pose& target, double free_value, Solution& s) {
  Pose aim = target;
  Branches branches;
  for (int step = 0; step < 12; ++step) {
    const Pose reached = chain_end(setup.chain, s.q.data());
    const PoseError e = pose_error(reached, target);
    if (e.position < fine && e.rotation < fine) return true;
    aim = nearest_square(target * inverse(reached) * aim);
    closed_branches(setup, aim, free_value, branches);
    if (!nearest_branch(branches, is_mirrored(setup.family), s)) return false;
  }
  return accepted(pose_error(setup.chain, target, s.q.data()));
}

// Whether every branch that may be an answer fits the exact chain as well as rounding allows.
bool all_fine(const Branches::Pack& pack, const std::array<double, 4>& ideal, double possible) {
  for (std::size_t k = 0; k < 4; ++k) {
    if (ideal[k] < possible && !(pack.refined && pack.miss[k] < fine * fine)) return false;
  }
  return true;
}

}  // namespace

void closed_branches(const InverseSetup& setup, const Pose& target, double free_value, Branches& out) {
  const Pose seen = is_mirrored(setup.family) ? inverse(target) : target;
  if (is_spherical(setup.family)) {
    solve_spherical(setup.spherical, seen, free_value, out);
  } else {
    solve_three_parallel(setup.parallel, seen, free_value, out);
  }
}

bool settle(const InverseSetup& setup, const Pose& target, double free_value, Branches& branches, Solutions& out) {
  const bool mirrored = is_mirrored(setup.family);
  bool distinct = !branches.may_coincide, near = false;
  for (std::size_t p = 0; p < branches.count; ++p) {
    Branches::Pack& pack = branches.pack[p];
    const std::array<double, 4> ideal = pack.miss;
    if (!setup.exact) {
      for (int step = 0; step < 2 && !all_fine(pack, ideal, branches.worth_polishing); ++step) {
        refine_pack(setup.chain, target, mirrored, pack);
      }
    }
    for (std::size_t k = 0; k < 4; ++k) {
      if (!(ideal[k] < branches.worth_polishing)) continue;
      near = branches.may_coincide;
      Solution s = branch_of(pack, k, mirrored);
      if (!(pack.miss[k] < (setup.exact ? holds : fine * fine))) {
        const Solution before = s;
        if (setup.exact || !solve_again(setup, target, free_value, s)) {
          s = before;
          if (!polish(setup.chain, target, s.q.data())) continue;
        }
        distinct = false;
      }
      if (distinct) {
        out.add(s);
      } else {
        add_distinct(out, s);
      }
    }
  }
  return near;
}

}  // namespace armwright
