#include "armwright/kinematics/inverse/inverse.hpp"

#include <algorithm>
#include <cmath>

#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/kinematics/inverse/settle.hpp"
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

constexpr double exact_misfit = 5e-14;
constexpr double usable_misfit = 1e-3;

bool take(InverseSetup& setup, ArmFamily family, double misfit) {
  const bool roots = is_spherical(family) ? setup.spherical.arm.kind == ThreeJointsKind::general : !setup.parallel.crossing;
  setup.spherical.worth_polishing = setup.parallel.worth_polishing =
      roots ? worth_polishing_roots : std::max(worth_polishing_exact, worth_polishing_by_misfit * misfit);
  if (!(misfit < usable_misfit)) return false;
  setup.family = family;
  setup.exact = misfit < exact_misfit;
  setup.spherical.near_double = setup.parallel.near_double =
      setup.exact ? near_double : std::max(1.01 * near_double, near_double_by_root * std::sqrt(misfit));
  setup.spherical.near_axis = setup.parallel.near_axis = setup.exact ? 0 : near_axis_by_misfit * misfit;
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

namespace {

constexpr int most_closed = 8;

bool closed_form(const InverseSetup& setup, const Pose& target, double free_value, Solutions& out) {
  Branches branches;
  closed_branches(setup, target, free_value, branches);
  const bool near = settle(setup, target, free_value, branches, out);
  if (out.count > 0 || !branches.arm_free) return near;
  // Joint 1 or 2 is free, but a wrist without right angles does not reach the attitude from where it was set: the
  // nearest other place, to 5 degrees.
  for (int k = 1; k < 37; ++k) {
    constexpr double step = 0.087266462599716477;
    for (const double value : {free_value + k * step, free_value - k * step}) {
      closed_branches(setup, target, value, branches);
      settle(setup, target, value, branches, out);
      if (out.count > 0) return near;
    }
  }
  return near;
}

// Near a double answer the pose hardly changes along the way between the two, so that what lies between may pass for
// an answer too. One that does not fit to rounding counts only if it stands well apart.
bool is_new(const SixChain& chain, const Pose& target, const Solution& s, const Solutions& known) {
  const PoseError e = pose_error(chain, target, s.q.data());
  const double apart = std::max(e.position, e.rotation) < 1e-12 ? same_answer : 1e-2;
  for (int k = 0; k < known.count; ++k) {
    if (same(s, known.solution[static_cast<std::size_t>(k)], apart)) return false;
  }
  return true;
}

}  // namespace

void solve_six(const InverseSetup& setup, const Pose& given, Solutions& out, double free_value) {
  out.count = 0;
  const Pose target = nearest_square(given);
  if (setup.family == ArmFamily::general) {
    solve_general(setup.general, target, out, free_value);
    return;
  }
  const bool near = closed_form(setup, target, free_value, out);
  out.count = std::min(out.count, most_closed);
  if (setup.exact || !near) return;
  Solutions others;
  solve_general(setup.general, target, others, free_value);
  for (int k = 0; k < others.count && out.count < most_closed; ++k) {
    const Solution& other = others.solution[static_cast<std::size_t>(k)];
    if (is_new(setup.chain, target, other, out)) out.add(other);
  }
}

}  // namespace armwright
