#include "armwright/kinematics/inverse/six_chain.hpp"

#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/kinematics/inverse/solutions.hpp"
#include "catch_shim.hpp"
#include "kinematics/random_arms.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

SixChain random_chain(Random& random) {
  SixChain chain;
  chain.base = random.pose(1);
  for (JointStep& step : chain.step) {
    step = step_of(random.uniform(0, 0.5) * random.direction(), random.uniform(-M_PI, M_PI), random.uniform(-M_PI, M_PI));
  }
  chain.end = random.pose(0.4);
  return chain;
}

}  // namespace

TEST_CASE("a reversed chain ends at the inverse of the chain's end, with the joints in reverse") {
  Random random{1};
  for (int k = 0; k < 200; ++k) {
    const SixChain chain = random_chain(random);
    const SixChain back = reversed(chain);
    const auto q = random.posture();
    const std::array<double, 6> mirrored{q[5], q[4], q[3], q[2], q[1], q[0]};
    const PoseError e = pose_error(chain_end(back, mirrored.data()), inverse(chain_end(chain, q.data())));
    REQUIRE(e.position < 1e-14);
    REQUIRE(e.rotation < 1e-14);
    const PoseError twice = pose_error(chain_end(reversed(back), q.data()), chain_end(chain, q.data()));
    REQUIRE(twice.position < 1e-14);
    REQUIRE(twice.rotation < 1e-14);
  }
}

TEST_CASE("a joint's axis line is what the end frame turns about") {
  Random random{2};
  const SixChain chain = random_chain(random);
  const auto q = random.posture();
  const ChainPosture posture = chain_posture(chain, q.data());
  for (std::size_t i = 0; i < 6; ++i) {
    auto moved = q;
    moved[i] += 0.7;
    const Rotation turn = turn_about(posture.axis[i].direction, 0.7);
    const Vec3 p = posture.axis[i].point;
    const Pose expected = Pose{turn, p - turn * p} * posture.end;
    const PoseError e = pose_error(chain_end(chain, moved.data()), expected);
    REQUIRE(e.position < 1e-14);
    REQUIRE(e.rotation < 1e-14);
  }
}

TEST_CASE("polishing comes back to the posture it was moved away from") {
  Random random{3};
  int regular = 0;
  for (int k = 0; k < 500; ++k) {
    const SixChain chain = random_chain(random);
    const auto q = random.posture();
    const Pose target = chain_end(chain, q.data());
    Solution there{q, -1}, found{q, -1};
    for (double& x : found.q) x += random.uniform(-1e-4, 1e-4);
    REQUIRE(polish(chain, target, found.q.data()));
    const PoseError e = pose_error(chain, target, found.q.data());
    REQUIRE(e.position < 1e-11);
    REQUIRE(e.rotation < 1e-11);
    regular += same(there, found);
  }
  REQUIRE(regular > 490);  // the others stand so near a singular posture that another answer is as near
}

TEST_CASE("polishing a pose out of reach says so") {
  Random random{4};
  SixChain chain = random_chain(random);
  Pose target = chain_end(chain, random.posture().data());
  target.position = target.position + Vec3{50, 0, 0};
  auto q = random.posture();
  REQUIRE_FALSE(polish(chain, target, q.data()));
  for (double x : q) REQUIRE(std::fabs(x) <= M_PI);
}

TEST_CASE("answers within 1e-6 rad, whole turns apart or not, count as one") {
  Solutions out;
  add_distinct(out, {{M_PI, 0, 1, 0, 0, 0}, -1});
  add_distinct(out, {{-M_PI + 5e-7, 0, 1, 0, 0, 0}, 3});
  add_distinct(out, {{M_PI, 0, 1, 0, 0, 2e-6}, -1});
  REQUIRE(out.count == 2);
  REQUIRE(out.solution[0].free_joint == 3);
  REQUIRE(out.solution[1].free_joint == -1);
}
