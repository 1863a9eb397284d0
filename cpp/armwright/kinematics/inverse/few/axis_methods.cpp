#include "armwright/kinematics/inverse/few/axis_methods.hpp"

#include <algorithm>

#include "armwright/kinematics/inverse/few/settle_axes.hpp"

namespace armwright {

namespace {

bool find_wrist(AxisSetup& setup) {
  setup.method = AxisMethod::wrist;
  setup.wrist = sliding_wrist(setup.chain);
  if (setup.wrist) return true;
  setup.method = AxisMethod::shoulder;
  setup.wrist = sliding_wrist(reversed(setup.chain));
  return setup.wrist.has_value();
}

void find_candidates(const AxisSetup& setup, const Pose& target, double free_value, Candidates& out) {
  switch (setup.method) {
    case AxisMethod::wrist: candidates_by_wrist(*setup.wrist, target, free_value, out); break;
    case AxisMethod::shoulder:
      candidates_by_wrist(*setup.wrist, inverse(target), free_value, out);
      for (int k = 0; k < out.count; ++k) std::reverse(out.q[static_cast<std::size_t>(k)].begin(), out.q[static_cast<std::size_t>(k)].end());
      break;
    case AxisMethod::groups: candidates_by_groups(setup.chain, setup.groups, target, setup.chain.count == 6, free_value, out); break;
    case AxisMethod::sweep:
      for (int k = 0; k < setup.swept.count; ++k) candidates_by_sweep(setup.chain, setup.swept.joint[static_cast<std::size_t>(k)], target, out);
      break;
  }
}

}  // namespace

std::optional<AxisSetup> prepare_axes(AxisChain chain) {
  AxisSetup setup;
  chain.size = size_of(chain);
  setup.chain = chain;
  if (usual_rank(chain) < chain.count) return std::nullopt;
  setup.groups = groups_of(chain);
  const bool all_turn = setup.groups.turning == static_cast<int>(chain.count);
  if (!all_turn && find_wrist(setup)) return setup;
  setup.method = AxisMethod::groups;
  if (fits_groups(chain, setup.groups) && !(all_turn && setup.groups.count == 3)) return setup;
  setup.method = AxisMethod::sweep;
  setup.swept = swept_joints(chain);
  const bool two_slides = setup.groups.turning + 2 == static_cast<int>(chain.count);
  if (setup.swept.count > 0 && two_slides) return setup;
  return std::nullopt;
}

void solve_axes(const AxisSetup& setup, const Pose& target, double free_value, Solutions& out) {
  Candidates found;
  find_candidates(setup, target, free_value, found);
  for (int k = 0; k < found.count; ++k) add_fitted(setup.chain, target, free_value, found.q[static_cast<std::size_t>(k)], out);
}

}  // namespace armwright
