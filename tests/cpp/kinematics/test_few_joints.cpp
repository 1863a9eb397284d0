#include "armwright/kinematics/inverse/few_joints.hpp"

#include <string>

#include "armwright/kinematics/inverse/general/approach.hpp"
#include "armwright/kinematics/inverse/polish.hpp"
#include "catch_shim.hpp"
#include "kinematics/check_inverse.hpp"
#include "kinematics/general_arms.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// Rows as in general_arms.hpp, a letter a joint: R or P.
FewChain chain_like(const std::string& joints, const ArmRows& rows, Random& random) {
  FewChain chain;
  chain.joint_count = joints.size();
  for (std::size_t i = 0; i < joints.size(); ++i) {
    const double s = std::sin(rows.alpha[i]), c = std::cos(rows.alpha[i]);
    chain.step[i] = step_of({rows.a[i], -s * rows.d[i], c * rows.d[i]}, rows.alpha[i], random.uniform(-1, 1));
    if (joints[i] == 'P') chain.step[i].kind = JointKind::prismatic;
  }
  chain.base = random.pose(0.5);
  chain.end = random_tool(random);
  return chain;
}

struct FewTally {
  int poses = 0, lost = 0, wrong = 0, answers = 0, free = 0, unreachable = 0, false_answers = 0;
};

std::array<double, 6> posture_of(const FewSetup& setup, Random& random) {
  std::array<double, 6> q{};
  for (std::size_t i = 0; i < setup.joint_count; ++i) {
    q[i] = slides(setup.chain, i) ? random.uniform(-0.8, 0.8) : random.uniform(-M_PI, M_PI);
  }
  return q;
}

void tally_few(const FewSetup& setup, Random& random, int count, FewTally& t) {
  for (int k = 0; k < count; ++k) {
    const auto q = posture_of(setup, random);
    const Pose target = chain_end(setup.chain, q.data());
    Solutions out;
    solve_few(setup, target, out);
    ++t.poses;
    t.answers += out.count;
    bool there = false, free = false;
    for (int i = 0; i < out.count; ++i) {
      const Solution& s = out.solution[static_cast<std::size_t>(i)];
      for (std::size_t j = setup.joint_count; j < 6; ++j) CHECK(s.q[j] == 0);
      if (!accepted(pose_error(setup.chain, target, s.q.data()))) ++t.wrong;
      there = there || apart(setup.chain, 1, s.q, q) < 1e-5;
      free = free || s.free_joint >= 0;
    }
    if (free) ++t.free;
    if (!there && !free) ++t.lost;
    if (setup.joint_count == 6) continue;
    // A little beside: out of the few poses that such an arm reaches exactly.
    Pose beside = target;
    beside.position = beside.position + 1e-4 * random.direction();
    beside.rotation = turn_about(random.direction(), 1e-4) * beside.rotation;
    solve_few(setup, beside, out);
    ++t.unreachable;
    for (int i = 0; i < out.count; ++i) {
      if (!accepted(pose_error(setup.chain, beside, out.solution[static_cast<std::size_t>(i)].q.data()))) ++t.wrong;
    }
    if (setup.joint_count <= 4) t.false_answers += out.count > 0 ? 1 : 0;  // never by chance
  }
}

template <class Rows>
FewTally try_arms(const std::string& joints, const Rows& rows, FewMethod method, int arms, int postures, Random& random) {
  FewTally t;
  for (int arm = 0; arm < arms; ++arm) {
    const FewSetup setup = prepare_few(chain_like(joints, rows(random), random));
    INFO(joints);
    CHECK(setup.method == method);
    tally_few(setup, random, postures, t);
  }
  return t;
}

void require_all(const FewTally& t, double lost_share) {
  CAPTURE(t.poses, t.answers, t.lost, t.free);
  CHECK(t.wrong == 0);
  CHECK(t.false_answers == 0);
  CHECK(t.lost <= lost_share * t.poses);
}

ArmRows parallel_rows(Random& random) {
  ArmRows rows = random_rows(random);
  rows.alpha = {};
  return rows;
}

ArmRows five_axis_rows(Random& random) {  // the usual small arm: base, three parallel axes, a turning flange
  ArmRows rows = random_rows(random);
  rows.alpha = {0, M_PI / 2, 0, 0, M_PI / 2, 0};
  rows.d[2] = rows.d[3] = 0;
  return rows;
}

ArmRows wrist_rows(Random& random) {  // spherical wrist behind any three joints
  ArmRows rows = random_rows(random);
  rows.a[4] = rows.a[5] = rows.d[4] = 0;
  return rows;
}

ArmRows right_rows(Random& random) {  // all right angles
  ArmRows rows = random_rows(random);
  for (double& alpha : rows.alpha) alpha = random.sign() * M_PI / 2;
  return rows;
}

}  // namespace

TEST_CASE("arms of fewer than six revolute joints: every posture is among its pose's answers") {
  Random random{41};
  for (const char* joints : {"R", "RR"}) require_all(try_arms(joints, random_rows, FewMethod::axes, 6, 60, random), 0);
  for (const char* joints : {"RRR", "RRRR", "RRRRR"}) {
    INFO(joints);
    require_all(try_arms(joints, random_rows, FewMethod::six_revolute, 6, 60, random), 0);
  }
  require_all(try_arms("RRRRR", five_axis_rows, FewMethod::six_revolute, 6, 60, random), 0.005);
}

TEST_CASE("planar arms of two and three joints: both elbows") {
  Random random{42};
  for (const char* joints : {"RR", "RRR"}) {
    const FewTally t = try_arms(joints, parallel_rows, FewMethod::axes, 6, 200, random);
    require_all(t, 0);
    if (std::string(joints) == "RRR") CHECK(t.answers >= 2 * t.poses - 4);
  }
}

TEST_CASE("arms with one prismatic joint: every posture is among its pose's answers") {
  Random random{43};
  for (const char* joints : {"PRRRRR", "RPRRRR", "RRPRRR", "RRRPRR", "RRRRPR", "RRRRRP"}) {
    INFO(joints);
    require_all(try_arms(joints, random_rows, FewMethod::ring, 4, 60, random), 0);
  }
  for (const char* joints : {"RRP", "PRR", "RPRR"}) require_all(try_arms(joints, random_rows, FewMethod::axes, 4, 200, random), 0);
  for (const char* joints : {"RRPRRR", "RPRRRR", "PRRRRR"}) {
    INFO(joints);
    require_all(try_arms(joints, wrist_rows, FewMethod::axes, 6, 500, random), 0);
  }
  require_all(try_arms("PRRRRR", right_rows, FewMethod::ring, 4, 60, random), 0.005);
}

TEST_CASE("SCARA-type arm: three parallel turns and a stroke along them") {
  Random random{44};
  for (const char* joints : {"RRPR", "RRRP", "PRRR"}) {
    INFO(joints);
    const FewTally t = try_arms(joints, parallel_rows, FewMethod::axes, 4, 500, random);
    require_all(t, 0);
    CHECK(t.answers >= 2 * t.poses - 4);
  }
}

TEST_CASE("Stanford arm (Paul 1981): eight answers, the posture among them") {
  // d 0.412, 0.154, 0.263 m, twists -90, 90, 0, -90, 90, 0 deg: figures seen in a public model file after R. P. Paul,
  // "Robot Manipulators", 1981. Joint 3 slides.
  const std::array<DhRow, 6> rows{{{0, 0.412, 0, -M_PI / 2}, {0, 0.154, 0, M_PI / 2}, {-M_PI / 2, 0, 0, 0}, {0, 0, 0, -M_PI / 2},
                                   {0, 0, 0, M_PI / 2}, {0, 0.263, 0, 0}}};
  const SixChain six = armwright::testing::chain_of(rows);
  FewChain chain;
  chain.joint_count = 6;
  chain.step = six.step;
  chain.step[2].kind = JointKind::prismatic;
  chain.end = six.end;
  const FewSetup setup = prepare_few(chain);
  REQUIRE(setup.method == FewMethod::axes);
  CHECK(setup.complete);
  Random random{45};
  FewTally t;
  tally_few(setup, random, 5000, t);
  require_all(t, 0);
  CHECK(t.answers >= 8 * t.poses - 8);  // near a double answer two may count as one
}

TEST_CASE("three prismatic joints: gantries with a wrist") {
  Random random{46};
  for (const char* joints : {"PPPRRR", "PRPRPR", "RPPPRR", "PPRPRR"}) {
    INFO(joints);
    require_all(try_arms(joints, right_rows, FewMethod::axes, 6, 500, random), 0);
  }
}

TEST_CASE("two prismatic joints: found by search") {
  Random random{47};
  for (const char* joints : {"PPRRRR", "RPPRRR", "PRPRRR", "PRRPRR"}) {
    INFO(joints);
    require_all(try_arms(joints, random_rows, FewMethod::axes, 4, 60, random), 0.005);
  }
  for (const char* joints : {"RPP", "PPR", "PPRR", "RPPRR"}) require_all(try_arms(joints, random_rows, FewMethod::axes, 4, 200, random), 0);
}

TEST_CASE("four parallel axes: one joint too many gives a representative with its free joint") {
  Random random{48};
  const FewSetup setup = prepare_few(chain_like("RRRR", parallel_rows(random), random));
  CHECK(setup.method == FewMethod::newton);
  CHECK_FALSE(setup.complete);
  FewTally t;
  tally_few(setup, random, 20, t);
  CHECK(t.wrong == 0);
  CHECK(t.free >= 19);
}

namespace {

// Joint values at multiples of 45 degrees and 0.2 m: where arms are singular. A posture counts as found if it is among the
// answers, or one of these names a free joint.
int lost_on_the_grid(const FewChain& chain, int count) {
  const FewSetup setup = prepare_few(chain);
  Random random{51};
  int lost = 0;
  for (int k = 0; k < count; ++k) {
    std::array<double, 6> q{};
    for (std::size_t i = 0; i < setup.joint_count; ++i)
      q[i] = slides(setup.chain, i) ? 0.2 * std::round(random.uniform(-3, 3)) : M_PI / 4 * std::round(random.uniform(-4, 4));
    const Pose target = chain_end(setup.chain, q.data());
    Solutions out;
    solve_few(setup, target, out);
    bool found = false;
    for (int i = 0; i < out.count; ++i) {
      const Solution& s = out.solution[static_cast<std::size_t>(i)];
      CHECK(accepted(pose_error(setup.chain, target, s.q.data())));
      found = found || s.free_joint >= 0 || apart(setup.chain, 1, s.q, q) < 1e-4;
    }
    lost += !found;
  }
  return lost;
}

FewChain chain_at(const std::string& joints, const std::array<double, 6>& alpha, const std::array<double, 6>& a,
                  const std::array<double, 6>& d, const std::array<double, 6>& zero = {}) {
  FewChain chain;
  chain.joint_count = joints.size();
  for (std::size_t i = 0; i < joints.size(); ++i) {
    chain.step[i] = step_of({a[i], -std::sin(alpha[i]) * d[i], std::cos(alpha[i]) * d[i]}, alpha[i], zero[i]);
    if (joints[i] == 'P') chain.step[i].kind = JointKind::prismatic;
  }
  chain.end.position = {0, 0, 0.12};
  return chain;
}

constexpr double right = M_PI / 2;

}  // namespace

TEST_CASE("singular postures of the usual arms: found, or told as free") {
  CHECK(lost_on_the_grid(chain_at("RRR", {}, {0, 0.4, 0.3}, {}), 500) == 0);
  CHECK(lost_on_the_grid(chain_at("RRRR", {0, right, 0, 0}, {0, 0.1, 0.5, 0.4}, {0.3}), 500) == 0);
  CHECK(lost_on_the_grid(chain_at("RRPR", {0, 0, M_PI, 0}, {0, 0.35, 0.3, 0}, {0.4}), 500) == 0);
  CHECK(lost_on_the_grid(chain_at("RRPRRR", {0, -right, right, 0, -right, right}, {}, {0.412, 0.154}), 500) == 0);
  CHECK(lost_on_the_grid(chain_at("PPPRRR", {0, -right, -right, 0, right, -right}, {}, {}, {0, right}), 500) == 0);
  CHECK(lost_on_the_grid(chain_at("PRRRR", {0, right, right, 0, 0}, {0, 0, 0.1, 0.5, 0.4}, {0, 0.3}), 500) == 0);
  // Doubly singular: stretched out and its first and last axes in line.
  CHECK(lost_on_the_grid(chain_at("PRRRRR", {0, right, right, 0, 0, right}, {0, 0, 0.1, 0.4, 0.35, 0}, {0, 0.3, 0, 0, 0, 0.1}), 500) <= 5);
}

TEST_CASE("a track under a five-axis arm is solved: every posture is among the answers") {
  const FewSetup setup = prepare_few(chain_at("PRRRRR", {0, right, right, 0, 0, right}, {0, 0, 0.1, 0.4, 0.35, 0}, {0, 0.3, 0, 0, 0, 0.1}));
  CHECK(setup.method == FewMethod::axes);
  CHECK(setup.complete);
  Random random{52};
  FewTally t;
  tally_few(setup, random, 5000, t);
  require_all(t, 0);
}
