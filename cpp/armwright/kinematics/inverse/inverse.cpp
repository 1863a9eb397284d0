#include "armwright/kinematics/inverse/inverse.hpp"

#include <algorithm>

#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/kinematics/inverse/tolerances.hpp"

namespace armwright {

namespace {

// How far the closed form's own geometry is from the chain's, over a few postures; m and rad alike.
template <class End>
double misfit_of(const SixChain& chain, const End& end) {
  double misfit = 0;
  for (int k = 0; k < 5; ++k) {
    std::array<double, 6> q{};
    for (std::size_t i = 0; i < 6; ++i) q[i] = wrapped((k + 0.3) * (1.7 + 0.9 * static_cast<double>(i * i)));
    const PoseError e = pose_error(end(q.data()), chain_end(chain, q.data()));
    misfit = std::max({misfit, e.position, e.rotation});
  }
  return misfit;
}

constexpr double exact_misfit = 2e-11;  // leaves most of the 1e-10 that an unpolished answer may miss by
constexpr double usable_misfit = 1e-3;

bool take(InverseSetup& setup, ArmFamily family, double misfit) {
  if (!(misfit < usable_misfit)) return false;
  setup.family = family;
  setup.exact = misfit < exact_misfit;
  setup.spherical.near_double = setup.parallel.near_double = setup.exact ? near_double : near_double_inexact;
  return true;
}

bool try_spherical(InverseSetup& setup, ArmFamily family, const SixChain& chain) {
  const auto found = spherical_setup(chain);
  if (!found) return false;
  setup.spherical = *found;
  return take(setup, family, misfit_of(chain, [&](const double* q) { return spherical_end(*found, q); }));
}

bool try_three_parallel(InverseSetup& setup, ArmFamily family, const SixChain& chain) {
  const auto found = three_parallel_setup(chain);
  if (!found) return false;
  setup.parallel = *found;
  return take(setup, family, misfit_of(chain, [&](const double* q) { return three_parallel_end(*found, q); }));
}

}  // namespace

InverseSetup prepare_inverse(const SixChain& chain) {
  InverseSetup setup;
  setup.chain = chain;
  const SixChain mirror = reversed(chain);
  const bool closed = try_spherical(setup, ArmFamily::spherical_wrist, chain) ||
                      try_spherical(setup, ArmFamily::spherical_shoulder, mirror) ||
                      try_three_parallel(setup, ArmFamily::three_parallel, chain) ||
                      try_three_parallel(setup, ArmFamily::three_parallel_mirror, mirror);
  if (!closed) setup.family = ArmFamily::general;
  if (!closed || !setup.exact) setup.general = prepare_general(chain);
  return setup;
}

ArmFamily family_of(const InverseSetup& setup) { return setup.family; }

void solve_six(const InverseSetup& setup, const Pose& target, Solutions& out, double free_value) {
  out.count = 0;
  if (setup.family == ArmFamily::general) {
    solve_general(setup.general, target, out);
    return;
  }
  Branches branches;
  const bool mirrored = is_mirrored(setup.family);
  const Pose seen = mirrored ? inverse(target) : target;
  if (is_spherical(setup.family)) {
    solve_spherical(setup.spherical, seen, free_value, branches);
  } else {
    solve_three_parallel(setup.parallel, seen, free_value, branches);
  }
  const bool near = settle(branches, setup.chain, target, setup.exact, mirrored, out);
  if (setup.exact || !near) return;
  Solutions others;
  solve_general(setup.general, target, others);
  for (int k = 0; k < others.count; ++k) add_distinct(out, others.solution[static_cast<std::size_t>(k)]);
}

}  // namespace armwright
