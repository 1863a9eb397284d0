#include "armwright/kinematics/inverse/batch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/kinematics/inverse/find_turns.hpp"
#include "armwright/kinematics/inverse/setup.hpp"
#include "armwright/kinematics/joint_range.hpp"
#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

// Nothing where the closed form has roots of polynomials, or is not the arm's geometry within rounding, or a joint is
// bounded on one side alone.
std::optional<PackSetup> pack_setup(const ArmInverse& inverse, const HeldArm& arm) {
  if (!inverse.base_only || !arm.six || !arm.six->exact || arm.six->family == ArmFamily::general) return std::nullopt;
  const InverseSetup& setup = *arm.six;
  const bool spherical = is_spherical(setup.family);
  if (spherical ? setup.spherical.arm.kind != ThreeJointsKind::elbow : !setup.parallel.crossing) return std::nullopt;
  PackSetup packs;
  packs.mirrored = is_mirrored(setup.family);
  packs.before = spherical ? setup.spherical.before : setup.parallel.before;
  packs.after = spherical ? setup.spherical.after : setup.parallel.after;
  if (packs.mirrored) packs.after = arm.base * packs.after;  // (base⁻¹ target)⁻¹ = target⁻¹ base
  else packs.before = packs.before * armwright::inverse(arm.base);
  const JointAngles& joints = spherical ? setup.spherical.joints : setup.parallel.joints;
  for (std::size_t own = 0; own < 6; ++own) {
    const std::size_t at = packs.mirrored ? 5 - own : own, model = inverse.solved[at];
    const double lower = inverse.model.lower[model], upper = inverse.model.upper[model];
    if (std::isfinite(lower) != std::isfinite(upper)) return std::nullopt;
    const double shift = joints.sign[own] * joints.shift[own], zero = inverse.model.step[model].zero;
    const double middle = std::isfinite(lower) ? 0.5 * (lower + upper) : 0, half = 0.5 * (upper - lower);
    packs.joint[own] = {joints.sign[own], shift, middle, lower, upper, at, std::cos(zero - shift), std::sin(zero - shift),
                        std::cos(zero + middle), std::sin(zero + middle), half > 0 && half < half_round ? std::cos(half) : -1};
  }
  return packs;
}

// Where the answers of one pose go: `most` of them, `joints` numbers each.
struct Answers {
  std::size_t joints, most;
  double* q;
  std::uint8_t* valid;
  std::int8_t* free_joint;

  void put(std::size_t k, bool is_valid, std::int8_t free) const {
    valid[k] = is_valid;
    free_joint[k] = is_valid ? free : std::int8_t{-1};
    if (!is_valid) std::fill_n(q + k * joints, joints, std::numeric_limits<double>::quiet_NaN());
  }
};

void write_plain(const ArmInverse& inverse, const HeldArm& arm, const double* target, bool within_limits, const Answers& to) {
  ArmSolutions found;
  solve_arm(inverse, arm, pose_from_rows(target), found);
  for (std::size_t k = 0; k < to.most; ++k) {
    const bool is = k < static_cast<std::size_t>(found.count);
    const ArmSolution& answer = found.solution[k];
    const bool valid = is && !(within_limits && limit_margin(inverse.model, answer.q.data()) < 0);
    if (valid) std::copy_n(answer.q.begin(), to.joints, to.q + k * to.joints);
    to.put(k, valid, is ? answer.free_joint : std::int8_t{-1});
  }
}

bool within(const Model& model, std::span<const std::size_t> joints, std::span<const double> values) {
  for (std::size_t r = 0; r < joints.size(); ++r)
    if (values[r] < model.lower[joints[r]] || values[r] > model.upper[joints[r]]) return false;
  return true;
}

}  // namespace

void solve_alone(const PackBatch& batch, std::size_t row) {
  const BatchArm& arm = *batch.arm;
  const std::size_t n = arm.inverse.model.joint_count, first = row * batch.to.stride;
  write_plain(arm.inverse, arm.held, batch.targets + 16 * row, batch.within_limits,
              {n, pack_branches, batch.to.q + first * n, batch.to.valid + first, batch.to.free_joint + first});
}

BatchArm batch_arm(const ArmInverse& inverse, const HeldArm& held) {
  return {inverse, held, within(inverse.model, inverse.redundant, held.held), pack_setup(inverse, held)};
}

void solve_batch(const BatchArm& arm, bool within_limits, std::span<const double> targets, const BatchAnswers& to, InstructionSet with) {
  if (arm.packs) {
    const InverseSetup& setup = *arm.held.six;
    const bool spherical = is_spherical(setup.family);
    const PackBatch batch{&arm, &*arm.packs, spherical ? &setup.spherical : nullptr, spherical ? nullptr : &setup.parallel,
                          arm.held.held.data(), arm.held.held.size(), arm.held_within, within_limits,
                          targets.data(), targets.size() / 16, to};
    return with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { solve_in_packs<T>(batch); }, with);
  }
  const std::size_t n = arm.inverse.model.joint_count, most = static_cast<std::size_t>(most_solutions(arm.inverse));
  for (std::size_t row = 0; row < targets.size() / 16; ++row) {
    const std::size_t first = row * to.stride;
    write_plain(arm.inverse, arm.held, targets.data() + 16 * row, within_limits, {n, most, to.q + first * n, to.valid + first, to.free_joint + first});
  }
}

SeenAttitude seen_attitude(const PackSetup& packs, const Rotation& attitude) {
  Rotation R = attitude;
  make_square(R);
  if (packs.mirrored) R = transpose(R);
  const Rotation before = packs.before.rotation * R;
  return {before * packs.after.rotation, before * packs.after.position + packs.before.position,
          packs.mirrored ? Rotation{-before.x, -before.y, -before.z} : packs.before.rotation};
}

void find_turns(const BatchArm& arm, std::span<const double> seen, FoundTurns& to, InstructionSet with) {
  const InverseSetup& setup = *arm.held.six;
  const bool spherical = is_spherical(setup.family);
  const TurnBatch batch{&*arm.packs, spherical ? &setup.spherical : nullptr, spherical ? nullptr : &setup.parallel, seen.data(), seen.size() / 16};
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { find_in_packs<T>(batch, to); }, with);
}

void solve_batch(const ArmInverse& inverse, std::span<const std::vector<double>> samples, bool within_limits, std::span<const double> targets,
                 std::span<double> q, std::span<std::uint8_t> valid, std::span<std::int8_t> free_joint) {
  const std::size_t n = inverse.model.joint_count, most = static_cast<std::size_t>(most_solutions(inverse));
  for (std::size_t s = 0; s < samples.size(); ++s) {
    const HeldArm held = hold(inverse, samples[s]);
    solve_batch(batch_arm(inverse, held), within_limits, targets,
                {samples.size() * most, q.data() + s * most * n, valid.data() + s * most, free_joint.data() + s * most});
  }
}

}  // namespace armwright
