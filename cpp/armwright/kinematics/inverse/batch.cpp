#include <algorithm>
#include <cmath>
#include <limits>

#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/kinematics/inverse/setup.hpp"
#include "armwright/kinematics/inverse/spherical_four.hpp"
#include "armwright/kinematics/inverse/three_parallel_four.hpp"
#include "armwright/kinematics/joint_range.hpp"

namespace armwright {

namespace {

constexpr double turn = 6.283185307179586476925;

// A joint of the closed form: from its angle to the arm's joint, sign · angle - shift, and the range that this is to be in.
struct Joint {
  double sign, shift, middle, lower, upper;
};

// What four poses at once need of an arm whose redundant joints are held.
struct Fast {
  const InverseSetup* setup = nullptr;
  bool mirrored = false;
  Pose before, after;  // X = before · target · after, of the inverse of the target where mirrored
  Joint joint[6];      // in the order of the arm's joints
};

// Nothing where the closed form has roots of polynomials, or is not the arm's geometry within rounding, or a joint is
// bounded on one side alone.
bool prepare_fast(const ArmInverse& inverse, const HeldArm& arm, Fast& fast) {
  if (!inverse.base_only || !arm.six || !arm.six->exact || arm.six->family == ArmFamily::general) return false;
  const InverseSetup& setup = *arm.six;
  const bool spherical = is_spherical(setup.family);
  if (spherical ? setup.spherical.arm.kind != ThreeJointsKind::elbow : !setup.parallel.crossing) return false;
  fast.setup = &setup;
  fast.mirrored = is_mirrored(setup.family);
  fast.before = spherical ? setup.spherical.before : setup.parallel.before;
  fast.after = spherical ? setup.spherical.after : setup.parallel.after;
  if (fast.mirrored) fast.after = arm.base * fast.after;  // (base⁻¹ target)⁻¹ = target⁻¹ base
  else fast.before = fast.before * armwright::inverse(arm.base);
  const JointAngles& joints = spherical ? setup.spherical.joints : setup.parallel.joints;
  for (std::size_t i = 0; i < 6; ++i) {
    const std::size_t own = fast.mirrored ? 5 - i : i, model = inverse.solved[i];
    const double lower = inverse.model.lower[model], upper = inverse.model.upper[model];
    if (std::isfinite(lower) != std::isfinite(upper)) return false;
    fast.joint[i] = {joints.sign[own], joints.sign[own] * joints.shift[own], std::isfinite(lower) ? 0.5 * (lower + upper) : 0, lower, upper};
  }
  return true;
}

ARMWRIGHT_INLINE Pose3<Lanes> four_poses(const double* const (&rows)[4]) {
  Lanes m[12];
  for (std::size_t i = 0; i < 12; ++i)
    for (std::size_t k = 0; k < 4; ++k) m[i].set(k, rows[k][i]);
  return {{{m[0], m[4], m[8]}, {m[1], m[5], m[9]}, {m[2], m[6], m[10]}}, {m[3], m[7], m[11]}};
}

// The joint's value within its range where whole turns allow, and whether it is; a posture at a limit is within it: see
// whole().
ARMWRIGHT_INLINE Lanes value_of(const Joint& joint, Lanes angle, Mask& within) {
  constexpr double rounding = 1e-11;  // rad
  const Lanes q = Lanes(joint.sign) * angle - Lanes(joint.shift);
  const Lanes r = q - Lanes(turn) * detail::nearest((q - Lanes(joint.middle)) * Lanes(1 / turn));
  const Lanes inside = minimum(maximum(r, Lanes(joint.lower)), Lanes(joint.upper));
  within = absolute(r - inside) < Lanes(rounding);
  return select(within, inside, r);
}

// Answers of four poses as rows of numbers: q[pose][branch], six of eight used; which branches are found, and within limits.
struct Told {
  alignas(64) double q[4][FourAnswers::branches][8];
  Mask found[FourAnswers::branches], within[FourAnswers::branches], plain;
};

ARMWRIGHT_BATCH void solve_four(const Fast& fast, const double* const (&rows)[4], Told& told) {
  Pose3<Lanes> target = four_poses(rows);
  make_square(target.rotation);
  if (fast.mirrored) target = inverse(target);
  const Pose3<Lanes> X = spread<Lanes>(fast.before) * target * spread<Lanes>(fast.after);
  FourAnswers answers;
  if (is_spherical(fast.setup->family)) spherical_four(fast.setup->spherical, X, answers);
  else three_parallel_four(fast.setup->parallel, X, answers);
  told.plain = answers.plain;
  for (std::size_t b = 0; b < FourAnswers::branches; ++b) {
    Lanes q[6];
    Mask within = answers.found[b], each;
    for (std::size_t i = 0; i < 6; ++i) {
      q[i] = value_of(fast.joint[i], answers.angle[b][fast.mirrored ? 5 - i : i], each);
      within = within & each;
    }
    store_quad(q[0], q[1], q[2], q[3], told.q[0][b], FourAnswers::branches * 8);
    store_quad(q[4], q[5], q[4], q[5], told.q[0][b] + 4, FourAnswers::branches * 8);
    told.found[b] = answers.found[b];
    told.within[b] = within;
  }
}

// Where the answers of a pose go: `most` of them, `joints` numbers each.
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

void write_four(const Told& told, std::size_t pose, std::span<const double> held, bool held_within, bool within_limits,
                const Answers& to) {
  std::size_t count = 0;
  for (std::size_t b = 0; b < FourAnswers::branches; ++b) {
    if (!lane(told.found[b], pose)) continue;
    const bool valid = !within_limits || (held_within && lane(told.within[b], pose));
    if (valid) {
      double* q = to.q + count * to.joints;
      std::copy(held.begin(), held.end(), q);
      std::copy_n(told.q[pose][b], 6, q + held.size());
    }
    to.put(count++, valid, -1);
  }
  for (; count < to.most; ++count) to.put(count, false, -1);
}

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

void solve_batch(const ArmInverse& inverse, std::span<const std::vector<double>> samples, bool within_limits, std::span<const double> targets,
                 std::span<double> q, std::span<std::uint8_t> valid, std::span<std::int8_t> free_joint) {
  const std::size_t n = inverse.model.joint_count, most = static_cast<std::size_t>(most_solutions(inverse)), rows = targets.size() / 16;
  for (std::size_t s = 0; s < samples.size(); ++s) {
    const HeldArm arm = hold(inverse, samples[s]);
    const auto place = [&](std::size_t row) {
      const std::size_t at = (row * samples.size() + s) * most;
      return Answers{n, most, q.data() + at * n, valid.data() + at, free_joint.data() + at};
    };
    Fast fast;
    if (!prepare_fast(inverse, arm, fast)) {
      for (std::size_t row = 0; row < rows; ++row) write_plain(inverse, arm, targets.data() + 16 * row, within_limits, place(row));
      continue;
    }
    const bool held_within = within(inverse.model, inverse.redundant, arm.held);
    Told told;
    for (std::size_t row = 0; row < rows; row += 4) {
      const std::size_t here = std::min<std::size_t>(4, rows - row);
      const double* at[4];
      for (std::size_t k = 0; k < 4; ++k) at[k] = targets.data() + 16 * (row + std::min(k, here - 1));
      solve_four(fast, at, told);
      for (std::size_t k = 0; k < here; ++k) {
        if (lane(told.plain, k)) write_plain(inverse, arm, at[k], within_limits, place(row + k));
        else write_four(told, k, arm.held, held_within, within_limits, place(row + k));
      }
    }
  }
}

}  // namespace armwright
