#include "armwright/kinematics/inverse/find_turns.hpp"

#include <algorithm>

#include "armwright/kinematics/joint_range.hpp"
#include "batch_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Sum {
  int alone = 0, answers = 0, other_count = 0;
  double apart = 0;
};

// Answers within the limits told by turns, against those told by angles.
void compare_turns(const SixChain& chain, Random& random, std::size_t poses, InstructionSet level, Sum& sum) {
  const Model model = model_of(chain, random);
  const ArmInverse inverse = prepare_arm_inverse(model);
  const BatchArm arm = batch_arm(inverse, inverse.usual);
  REQUIRE(arm.packs);
  std::vector<double> targets(poses * 16), seen(poses * 16);
  for (std::size_t row = 0; row < poses; ++row) {
    const Pose target = target_of(chain, random);
    pose_to_rows(target, targets.data() + 16 * row);
    const auto [R, p] = seen_attitude(*arm.packs, target.rotation).with_tool_at(target.position);
    const double numbers[12] = {R.x.x, R.x.y, R.x.z, R.y.x, R.y.y, R.y.z, R.z.x, R.z.y, R.z.z, p.x, p.y, p.z};
    std::copy_n(numbers, 12, seen.data() + 16 * row);
  }
  const std::size_t room = poses * pack_branches + widest_pack;
  std::vector<double> turn(12 * room);
  std::vector<std::uint32_t> of(room), alone(poses);
  FoundTurns found{turn.data(), room, of.data(), alone.data()};
  find_turns(arm, seen, found, level);
  std::vector<std::vector<std::size_t>> rows(poses);
  for (std::size_t i = 0; i < found.count; ++i) rows[of[i]].push_back(i);
  const Batch all = solved(inverse, targets, false, level);
  for (std::size_t row = 0; row < poses; ++row) {
    const bool is_alone = std::find(alone.begin(), alone.begin() + static_cast<std::ptrdiff_t>(found.alone_count), row) != alone.begin() + static_cast<std::ptrdiff_t>(found.alone_count);
    if (is_alone) CHECK(rows[row].empty());
    std::size_t k = 0;
    bool edge = is_alone;
    for (std::size_t at = row * pack_branches; at < (row + 1) * pack_branches; ++at) {
      const double own = all.valid[at] ? limit_margin(model, &all.q[at * 6]) : -1;
      edge = edge || (all.valid[at] && std::fabs(own) < 1e-7);
      if (edge || own < 0) continue;
      REQUIRE(k < rows[row].size());
      const std::size_t i = rows[row][k++];
      for (std::size_t j = 0; j < 6; ++j) {
        const double angle = all.q[at * 6 + j] + model.step[j].zero;
        sum.apart = std::max({sum.apart, std::fabs(turn[2 * j * room + i] - std::sin(angle)), std::fabs(turn[(2 * j + 1) * room + i] - std::cos(angle))});
      }
      ++sum.answers;
    }
    sum.other_count += !edge && k != rows[row].size();
    sum.alone += is_alone;
  }
}

}  // namespace

TEST_CASE("answers within the limits are told by the sines and cosines of their joints, in their order") {
  for (const InstructionSet level : levels()) {
    Random random{17};
    Sum sum;
    for (int trial = 0; trial < 60; ++trial) {
      const SixChain elbow = random_elbow(random, trial % 2 == 0), parallel = random_three_parallel(random, true);
      const std::size_t poses = trial < 18 ? static_cast<std::size_t>(trial) : 120;
      for (const SixChain& chain : {elbow, reversed(elbow), parallel, reversed(parallel)}) compare_turns(chain, random, poses, level, sum);
    }
    INFO(sum.alone << " poses alone, " << sum.answers << " answers, apart by " << sum.apart);
    CHECK(sum.answers > 5000);
    CHECK(sum.other_count == 0);
    CHECK(sum.apart < 1e-7);
    CHECK(sum.alone > 10);
  }
}
