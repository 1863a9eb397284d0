#include "armwright/kinematics/inverse/inverse.hpp"

#include "catch_shim.hpp"
#include "kinematics/arms.hpp"
#include "kinematics/check_inverse.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

void require_complete(const Tally& t) {
  CAPTURE(t.poses, t.answers, t.worst_position, t.worst_rotation, t.worst_found);
  REQUIRE(t.lost == 0);
  REQUIRE(t.wrong == 0);
  REQUIRE(t.most <= 8);
}

void check_arm(const SixChain& chain, ArmFamily family) {
  const InverseSetup setup = prepare_inverse(chain);
  REQUIRE(setup.family == family);
  REQUIRE(setup.exact);
  Random random{11};
  require_complete(random_postures(chain, random, posture_count()));
}

// A hundred arms that share the number of postures of one.
template <class Make>
void check_arms(const Make& make, ArmFamily family) {
  Random random{12};
  Tally sum;
  for (int k = 0; k < 100; ++k) {
    const SixChain chain = make(random);
    REQUIRE(prepare_inverse(chain).family == family);
    add(sum, random_postures(chain, random, posture_count() / 100));
  }
  require_complete(sum);
}

}  // namespace

TEST_CASE("offset-elbow arm with a spherical wrist: every posture is among its pose's answers") {
  check_arm(usual_arm(), ArmFamily::spherical_wrist);
  check_arm(reversed(usual_arm()), ArmFamily::spherical_shoulder);
}

TEST_CASE("PUMA 560: every posture is among its pose's answers") { check_arm(puma560(), ArmFamily::spherical_wrist); }

TEST_CASE("UR5 and its mirror: every posture is among its pose's answers") {
  check_arm(ur5(), ArmFamily::three_parallel);
  check_arm(reversed(ur5()), ArmFamily::three_parallel_mirror);
}

TEST_CASE("random arms with parallel axes 2 and 3 and a spherical wrist of any angles") {
  check_arms([](Random& r) { return random_elbow(r, true); }, ArmFamily::spherical_wrist);
  check_arms([](Random& r) { return random_elbow(r, false); }, ArmFamily::spherical_wrist);
}

TEST_CASE("random arms with any three joints before a spherical wrist of any angles") {
  check_arms([](Random& r) { return random_spherical(r, true); }, ArmFamily::spherical_wrist);
  check_arms([](Random& r) { return random_spherical(r, false); }, ArmFamily::spherical_wrist);
  check_arms([](Random& r) { return reversed(random_spherical(r, false)); }, ArmFamily::spherical_shoulder);
}

TEST_CASE("random arms whose axes 1 and 2 meet or are parallel") {
  check_arms([](Random& r) { return random_shoulder(r, false); }, ArmFamily::spherical_wrist);
  check_arms([](Random& r) { return random_shoulder(r, true); }, ArmFamily::spherical_wrist);
}

TEST_CASE("random arms with axes 2, 3, 4 parallel, and their mirrors") {
  check_arms([](Random& r) { return random_three_parallel(r, true); }, ArmFamily::three_parallel);
  check_arms([](Random& r) { return random_three_parallel(r, false); }, ArmFamily::three_parallel);
  check_arms([](Random& r) { return reversed(random_three_parallel(r, true)); }, ArmFamily::three_parallel_mirror);
  check_arms([](Random& r) { return reversed(random_three_parallel(r, false)); }, ArmFamily::three_parallel_mirror);
}

// Source: these eight were computed with the library eaik 1.2.2 from the Denavit-Hartenberg figures of Corke and
// Armstrong-Helouvry (ICRA 1994), for the posture (0.3, -0.6, 0.7, 0.4, 0.5, 0.2); printed to 1e-6.
TEST_CASE("PUMA 560: the eight answers that another library gives") {
  const std::array<std::array<double, 6>, 8> expected{{
      {2.595943, 1.51554, 0.7, -2.373601, 2.299594, 1.957731},
      {2.595943, 1.51554, 0.7, 0.767992, -2.299594, -1.183861},
      {2.595943, -2.541593, 2.535548, -1.947124, 0.591031, 0.259539},
      {2.595943, -2.541593, 2.535548, 1.194469, -0.591031, -2.882054},
      {0.3, -0.6, 0.7, 0.4, 0.5, 0.2},
      {0.3, -0.6, 0.7, -2.741593, -0.5, -2.941593},
      {0.3, 1.626053, 2.535548, 0.40903, 2.65296, 0.920839},
      {0.3, 1.626053, 2.535548, -2.732563, -2.65296, -2.220753},
  }};
  const InverseSetup setup = prepare_inverse(puma560());
  Solutions out;
  solve_six(setup, chain_end(setup.chain, expected[4].data()), out);
  REQUIRE(out.count == 8);
  for (const auto& q : expected) {
    double nearest = HUGE_VAL;
    for (int k = 0; k < 8; ++k) nearest = std::min(nearest, distance(q, out.solution[static_cast<std::size_t>(k)].q));
    REQUIRE(nearest < 1e-6);
  }
}

TEST_CASE("answers keep their order from one pose to the next") {
  const InverseSetup setup = prepare_inverse(puma560());
  std::array<double, 6> q{0.3, -0.6, 0.7, 0.4, 0.5, 0.2};
  Solutions before, after;
  solve_six(setup, chain_end(setup.chain, q.data()), before);
  for (int step = 0; step < 100; ++step) {
    for (double& x : q) x += 1e-3;
    solve_six(setup, chain_end(setup.chain, q.data()), after);
    REQUIRE(after.count == before.count);
    for (std::size_t k = 0; k < 8; ++k) REQUIRE(distance(before.solution[k].q, after.solution[k].q) < 0.05);
    before = after;
  }
}

TEST_CASE("a pose out of reach has no answers") {
  for (const SixChain& chain : {usual_arm(), puma560(), ur5(), reversed(ur5())}) {
    const InverseSetup setup = prepare_inverse(chain);
    Pose target = identity_pose;
    target.position = {2.5, 0.3, 0.4};
    Solutions out;
    solve_six(setup, target, out);
    REQUIRE(out.count == 0);
  }
}

TEST_CASE("small and large arms: the same arm at a hundredth and at fifty times its size") {
  for (const double scale : {0.01, 50.0}) {
    for (SixChain chain : {usual_arm(), ur5(), puma560()}) {
      for (JointStep& step : chain.step) step.offset = scale * step.offset;
      chain.end.position = scale * chain.end.position;
      REQUIRE(prepare_inverse(chain).exact);
      Random random{4};
      require_complete(random_postures(chain, random, 2000));
    }
  }
}

TEST_CASE("geometry close to a special case: axes 2 and 3 a little off parallel, axes 5 and 6 a little apart") {
  const std::array<double, 6> zero{};
  for (const double off : {1e-4, 1e-3, 1e-2}) {
    Random random{9};
    for (int k = 0; k < 10; ++k) {
      auto axis = chain_posture(random_elbow(random, true), zero.data()).axis;
      axis[2].direction = turn_about(random.direction(), off) * axis[2].direction;
      const SixChain tilted = chain_on(axis, random_end(random));
      REQUIRE(prepare_inverse(tilted).family == ArmFamily::spherical_wrist);
      require_complete(random_postures(tilted, random, 500));

      axis = chain_posture(random_three_parallel(random, true), zero.data()).axis;
      const Vec3 across = cross(axis[4].direction, axis[5].direction);
      axis[5].point = axis[5].point + (off / norm(across)) * across;
      const SixChain apart = chain_on(axis, random_end(random));
      REQUIRE(prepare_inverse(apart).family == ArmFamily::three_parallel);
      require_complete(random_postures(apart, random, 500));
    }
  }
}
