#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "armwright/kinematics/inverse/arm_inverse.hpp"
#include "armwright/kinematics/inverse/batch.hpp"
#include "armwright/kinematics/chain.hpp"
#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/kinematics/inverse/setup.hpp"
#include "armwright/kinematics/joint_range.hpp"
#include "batch_cases.hpp"

// Several poses at once against one at a time: the same answers in the same order, to rounding; with every set of instructions
// that this machine has.

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Sum {
  int poses = 0, answers = 0, other_count = 0;
  double apart = 0, misfit = 0;
};

void compare(const SixChain& chain, Random& random, int poses, InstructionSet level, Sum& sum) {
  const Model model = model_of(chain, random);
  const ArmInverse inverse = prepare_arm_inverse(model);
  REQUIRE(inverse.usual.six);
  const std::size_t most = static_cast<std::size_t>(most_solutions(inverse));
  std::vector<double> targets(static_cast<std::size_t>(poses) * 16);
  for (std::size_t row = 0; row < static_cast<std::size_t>(poses); ++row) pose_to_rows(target_of(chain, random), targets.data() + 16 * row);
  const Batch all = solved(inverse, targets, false, level), kept = solved(inverse, targets, true, level);
  for (std::size_t row = 0; row < static_cast<std::size_t>(poses); ++row) {
    ArmSolutions one;
    solve_arm(inverse, inverse.usual, pose_from_rows(targets.data() + 16 * row), one);
    const auto count = static_cast<std::size_t>(std::count(all.valid.begin() + static_cast<std::ptrdiff_t>(row * most),
                                                           all.valid.begin() + static_cast<std::ptrdiff_t>((row + 1) * most), 1));
    ++sum.poses;
    if (count != static_cast<std::size_t>(one.count)) {
      ++sum.other_count;
      continue;
    }
    for (std::size_t k = 0; k < most; ++k) {
      const std::size_t at = row * most + k;
      REQUIRE(all.valid[at] == (k < count));
      if (k >= count) {
        CHECK((std::isnan(all.q[at * 6]) && std::isnan(all.q[at * 6 + 5]) && all.free_joint[at] == -1 && kept.valid[at] == 0));
        continue;
      }
      ++sum.answers;
      CHECK(all.free_joint[at] == one.solution[k].free_joint);
      const double margin = limit_margin(model, one.solution[k].q.data());
      if (std::fabs(margin) > 1e-9) CHECK(kept.valid[at] == (margin > 0));
      CHECK((kept.valid[at] ? kept.q[at * 6] == all.q[at * 6] : std::isnan(kept.q[at * 6])));
      const PoseError error = pose_error(chain, nearest_square(pose_from_rows(targets.data() + 16 * row)), &all.q[at * 6]);
      sum.misfit = std::max({sum.misfit, error.position, error.rotation});
      for (std::size_t i = 0; i < 6; ++i) sum.apart = std::max(sum.apart, std::fabs(all.q[at * 6 + i] - one.solution[k].q[i]));
    }
  }
}

}  // namespace

TEST_CASE("several poses at once have the answers of one at a time") {
  for (const InstructionSet level : levels()) {
    Random random{11};
    Sum sum;
    for (int arm = 0; arm < 60; ++arm) {
      const SixChain elbow = random_elbow(random, arm % 2 == 0), parallel = random_three_parallel(random, true);
      compare(elbow, random, 203, level, sum);
      compare(reversed(elbow), random, 102, level, sum);
      compare(parallel, random, 201, level, sum);
      compare(reversed(parallel), random, 101, level, sum);
    }
    INFO(sum.poses << " poses, " << sum.answers << " answers, " << sum.other_count << " with another count, apart by " << sum.apart << ", missing the pose by " << sum.misfit);
    CHECK(sum.answers > 100000);
    CHECK(sum.other_count == 0);
    CHECK(sum.apart < 1e-7);  // near a double answer joint values are told less exactly than the pose
    CHECK(sum.misfit < 1e-10);
  }
}

TEST_CASE("where a pose stands in a batch changes no bit of its answers") {
  Random random{12};
  for (const SixChain& chain : {random_elbow(random, true), random_three_parallel(random, true)}) {
    const ArmInverse inverse = prepare_arm_inverse(model_of(chain, random));
    const std::size_t rows = 37, most = static_cast<std::size_t>(most_solutions(inverse));
    std::vector<double> targets(rows * 16);
    for (std::size_t row = 0; row < rows; ++row) pose_to_rows(target_of(chain, random), targets.data() + 16 * row);
    for (const InstructionSet level : levels()) {
      const Batch all = solved(inverse, targets, false, level);
      for (std::size_t row = 0; row < rows; ++row) {
        const std::vector<double> one(targets.begin() + static_cast<std::ptrdiff_t>(16 * row), targets.begin() + static_cast<std::ptrdiff_t>(16 * row + 16));
        const Batch alone = solved(inverse, one, false, level);
        for (std::size_t k = 0; k < most * 6; ++k) {
          const double a = alone.q[k], b = all.q[row * most * 6 + k];
          CHECK((a == b || (std::isnan(a) && std::isnan(b))));
        }
      }
    }
  }
}

TEST_CASE("a batch of any length, with answers set apart, and behind a track") {
  Random random{13};
  Model model = model_of(random_elbow(random, true), random);
  for (std::size_t i = 6; i > 0; --i) model.step[i] = model.step[i - 1], model.lower[i] = model.lower[i - 1], model.upper[i] = model.upper[i - 1];
  model.step[0] = {{0.1, 0.2, 0.3}, 0, 1, 0, 1, 0, JointKind::prismatic};
  model.step[0].sin_alpha = 1, model.step[0].cos_alpha = 0;
  model.lower[0] = -1, model.upper[0] = 1;
  model.joint_count = 7;
  model.has_track = true;
  const ArmInverse inverse = prepare_arm_inverse(model);
  REQUIRE(inverse.redundant == std::vector<std::size_t>{0});
  const std::size_t most = static_cast<std::size_t>(most_solutions(inverse)), n = 7, stride = most + 3;
  for (const double place : {0.4, -1.0, 1.5}) {  // the last one beyond the track's end
    const HeldArm held = hold(inverse, std::vector<double>{place});
    const BatchArm arm = batch_arm(inverse, held);
    REQUIRE(arm.packs);
    for (std::size_t rows = 0; rows <= 17; ++rows) {
      std::vector<double> targets(rows * 16);
      for (std::size_t row = 0; row < rows; ++row) {
        std::array<double, 7> q{place};
        for (std::size_t i = 1; i < 7; ++i) q[i] = random.uniform(-3, 3);
        std::array<Pose, max_joints> frames;
        joint_frames(model, q.data(), frames.data());
        pose_to_rows(frames[6] * model.tool, targets.data() + 16 * row);
      }
      for (const InstructionSet level : levels()) {
        for (const bool within_limits : {false, true}) {
          std::vector<double> q(rows * stride * n, 7.0);
          std::vector<std::uint8_t> valid(rows * stride, 7);
          std::vector<std::int8_t> free_joint(rows * stride, 7);
          solve_batch(arm, within_limits, targets, {stride, q.data(), valid.data(), free_joint.data()}, level);
          for (std::size_t row = 0; row < rows; ++row) {
            ArmSolutions one;
            solve_arm(inverse, held, pose_from_rows(targets.data() + 16 * row), one);
            REQUIRE(one.count > 0);
            for (std::size_t k = 0; k < stride; ++k) {
              const std::size_t at = row * stride + k;
              if (k >= most) {
                CHECK((valid[at] == 7 && free_joint[at] == 7 && q[at * n] == 7 && q[at * n + 6] == 7));
                continue;
              }
              const bool is = k < static_cast<std::size_t>(one.count);
              const double margin = is ? limit_margin(model, one.solution[k].q.data()) : -1;
              if (within_limits && is && std::fabs(margin) < 1e-9) continue;
              REQUIRE(valid[at] == (is && !(within_limits && margin < 0)));
              CHECK(free_joint[at] == (valid[at] ? one.solution[k].free_joint : -1));
              for (std::size_t i = 0; i < n; ++i) CHECK((valid[at] ? std::fabs(q[at * n + i] - one.solution[k].q[i]) < 1e-7 : std::isnan(q[at * n + i])));
            }
          }
        }
      }
    }
  }
}

TEST_CASE("neat postures come out the same from packs: angles of exactly no, a quarter and half a turn") {
  // Twists of right angles and links along the axes: numbers that are exact, signs of zero and ties of whole turns among them.
  SixChain spherical, parallel;
  spherical.step = {step_of({0, 0, 0.4}, 0, 0), step_of({0.1, 0, 0}, M_PI / 2, 0), step_of({0.5, 0, 0}, 0, 0),
    step_of({0.05, -0.45, 0}, M_PI / 2, 0), step_of({0, 0, 0}, -M_PI / 2, 0), step_of({0, -0.1, 0}, M_PI / 2, 0)};
  parallel.step = {step_of({0, 0, 0.4}, 0, 0), step_of({0, 0, 0}, M_PI / 2, 0), step_of({0.5, 0, 0}, 0, 0),
    step_of({0.45, 0, 0.1}, 0, 0), step_of({0, -0.1, 0}, M_PI / 2, 0), step_of({0, 0.1, 0}, -M_PI / 2, 0)};
  for (const SixChain& chain : {spherical, parallel, reversed(spherical), reversed(parallel)}) {
    Random random{14};
    Model model = model_of(chain, random);
    model.lower.fill(-M_PI), model.upper.fill(M_PI);
    const ArmInverse inverse = prepare_arm_inverse(model);
    std::vector<double> targets;
    for (int k = 0; k < 4096; ++k) {
      std::array<double, 6> q;
      for (std::size_t i = 0, rest = static_cast<std::size_t>(k); i < 6; ++i, rest /= 4) q[i] = static_cast<double>(rest % 4) * (M_PI / 2) - M_PI / 2;
      targets.resize(targets.size() + 16);
      pose_to_rows(chain_end(chain, q.data()), &targets[targets.size() - 16]);
    }
    const std::size_t most = static_cast<std::size_t>(most_solutions(inverse));
    for (const InstructionSet level : levels()) {
      const Batch all = solved(inverse, targets, false, level);
      int answers = 0;
      for (std::size_t row = 0; row < targets.size() / 16; ++row) {
        ArmSolutions one;
        solve_arm(inverse, inverse.usual, pose_from_rows(targets.data() + 16 * row), one);
        for (std::size_t k = 0; k < most; ++k) {
          REQUIRE(all.valid[row * most + k] == (k < static_cast<std::size_t>(one.count)));
          if (k >= static_cast<std::size_t>(one.count)) continue;
          ++answers;
          // Half a turn may be told as plus or minus: rounding decides, here as there.
          for (std::size_t i = 0; i < 6; ++i) CHECK(std::fabs(wrapped(all.q[(row * most + k) * 6 + i] - one.solution[k].q[i])) < 1e-7);
        }
      }
      CHECK(answers > 4096);
    }
  }
}

TEST_CASE("answers beyond what the cache holds are written past it, and are the same bits") {
  Random random{15};
  for (const SixChain& chain : {random_elbow(random, true), random_three_parallel(random, true)}) {
    const ArmInverse inverse = prepare_arm_inverse(model_of(chain, random));
    const BatchArm arm = batch_arm(inverse, inverse.usual);
    const std::size_t rows = 3005, most = static_cast<std::size_t>(most_solutions(inverse)), numbers = rows * most * 6;
    std::vector<double> targets(rows * 16);
    for (std::size_t row = 0; row < rows; ++row) pose_to_rows(target_of(chain, random), targets.data() + 16 * row);
    for (const InstructionSet level : levels()) {
      for (const bool within_limits : {false, true}) {
        std::vector<double> room(numbers + 16, 7.0), expected(numbers, 7.0);
        double* q = room.data();
        while (reinterpret_cast<std::uintptr_t>(q) % 64 != 0) ++q;  // a line of the cache, as large results have
        std::vector<std::uint8_t> valid(rows * most, 7), expected_valid(rows * most, 7);
        std::vector<std::int8_t> free_joint(rows * most, 7), expected_free(rows * most, 7);
        solve_batch(arm, within_limits, targets, {most, q, valid.data(), free_joint.data()}, level);
        for (std::size_t row = 0; row < rows; row += 100) {
          const std::size_t here = std::min<std::size_t>(100, rows - row), at = row * most;
          solve_batch(arm, within_limits, {targets.data() + 16 * row, 16 * here},
                      {most, expected.data() + at * 6, expected_valid.data() + at, expected_free.data() + at}, level);
        }
        CHECK(valid == expected_valid);
        CHECK(free_joint == expected_free);
        std::size_t other = 0;
        for (std::size_t k = 0; k < numbers; ++k) other += q[k] != expected[k] && !(std::isnan(q[k]) && std::isnan(expected[k]));
        CHECK(other == 0);
        CHECK(q[numbers] == 7);
        CHECK(std::count(valid.begin(), valid.end(), 1) > (within_limits ? 0 : 2000));
      }
    }
  }
}
