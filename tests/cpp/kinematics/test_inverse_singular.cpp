#include "armwright/kinematics/inverse/inverse.hpp"

#include "catch_shim.hpp"
#include "kinematics/arms.hpp"
#include "kinematics/check_inverse.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Place {
  std::size_t joint;
  double value;  // rad, where the arm is singular
};

struct NearSingular {
  int unanswered = 0;
  Tally tally;
};

// Random postures with one joint at a singular place, off it by about `gap`.
NearSingular near_place(const InverseSetup& setup, Place place, double gap, int count, double tolerance) {
  Random random{21};
  NearSingular result;
  for (int k = 0; k < count; ++k) {
    auto q = random.posture();
    q[place.joint] = place.value + gap * random.uniform(0.3, 1) * random.sign();
    const int before = result.tally.answers;
    tally(setup, q, result.tally, tolerance);
    result.unanswered += result.tally.answers == before;
  }
  return result;
}

constexpr double gaps[] = {1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10, 1e-11, 1e-12, 1e-13, 0};

// Every pose has answers and all of them hold. The posture itself is found as well as the pose, rounded to 1e-16,
// still tells it; worst where it is near a second singular posture as well.
void check_place(const SixChain& chain, Place place) {
  const InverseSetup setup = prepare_inverse(chain);
  for (const double gap : gaps) {
    const double tolerance = std::max(1e-4, std::min(1e-10 / std::max(gap, 1e-13), 1e-2));
    const NearSingular found = near_place(setup, place, gap, 300, tolerance);
    CAPTURE(gap, found.tally.worst_position, found.tally.worst_rotation);
    REQUIRE(found.unanswered == 0);
    REQUIRE(found.tally.wrong == 0);
    REQUIRE(found.tally.lost <= (gap > 0 && gap < 1e-7 ? 3 : 0));  // of 300; those near two singular postures
    REQUIRE(found.tally.most <= 8);
  }
}

double straight(const JointAngles& joints, std::size_t i) { return -joints.sign[i] * joints.shift[i]; }

Solutions solved(const InverseSetup& setup, const std::array<double, 6>& q, double free_value = 0) {
  Solutions out;
  solve_six(setup, chain_end(setup.chain, q.data()), out, free_value);
  return out;
}

}  // namespace

TEST_CASE("wrist in line, exactly and nearly") {
  check_place(usual_arm(), {4, 0});
  check_place(puma560(), {4, 0});
  check_place(puma560(), {4, M_PI});
  check_place(ur5(), {4, 0});
  check_place(ur5(), {4, M_PI});
  check_place(reversed(ur5()), {1, 0});
}

TEST_CASE("elbow stretched and folded, exactly and nearly") {
  const JointAngles usual = prepare_inverse(usual_arm()).spherical.joints;
  check_place(usual_arm(), {2, straight(usual, 2)});
  check_place(usual_arm(), {2, straight(usual, 2) + M_PI});
  check_place(puma560(), {2, straight(prepare_inverse(puma560()).spherical.joints, 2)});
  check_place(ur5(), {2, 0});
  check_place(reversed(ur5()), {3, 0});
}

TEST_CASE("wrist of any angles at the ends of its reach, exactly and nearly") {
  Random random{3};
  for (int k = 0; k < 5; ++k) {
    const SixChain chain = random_elbow(random, false);
    const JointAngles joints = prepare_inverse(chain).spherical.joints;
    check_place(chain, {4, straight(joints, 4)});
    check_place(chain, {4, straight(joints, 4) + M_PI});
  }
}

TEST_CASE("wrist centre on axis 1, exactly and nearly: joint 1 is free") {
  const SixChain chain = usual_arm();
  const InverseSetup setup = prepare_inverse(chain);
  Random random{22};
  for (const double gap : gaps) {
    Tally t;
    for (int k = 0; k < 300; ++k) {
      auto q = random.posture();
      // Joint 2 so that the wrist centre comes onto axis 1: its distance from there changes sign in between.
      const auto out = [&](double q2) {
        auto at = q;
        at[1] = q2;
        const Vec3 centre = (chain_end(chain, at.data()) * setup.spherical.after).position;
        return centre.x * std::cos(q[0]) + centre.y * std::sin(q[0]);
      };
      double low = -M_PI, high = low;
      while (high < M_PI && (out(low) < 0) == (out(high) < 0)) high += 0.1;
      if (high >= M_PI) continue;
      for (int step = 0; step < 80; ++step) {
        const double middle = 0.5 * (low + high);
        ((out(middle) < 0) == (out(low) < 0) ? low : high) = middle;
      }
      q[1] = low + gap * random.uniform(0.3, 1) * random.sign();
      const int before = t.answers;
      tally(setup, q, t, std::max(1e-5, std::min(1e-13 / std::max(gap, 1e-13), 1e-2)));
      REQUIRE(t.answers > before);
      if (gap > 1e-11) continue;
      const Solutions found = solved(setup, q);
      REQUIRE(found.solution[0].free_joint == 0);
      REQUIRE(std::fabs(found.solution[0].q[0]) < 1e-12);
      REQUIRE(std::fabs(solved(setup, q, 0.7).solution[0].q[0] - 0.7) < 1e-12);
    }
    CAPTURE(gap, t.poses);
    REQUIRE(t.poses > 100);
    REQUIRE(t.wrong == 0);
    REQUIRE(t.lost == 0);
  }
}

TEST_CASE("a wrist in line names its free joint and sets it as told") {
  std::array<double, 6> q{0.3, -0.6, 0.7, 0.4, 0, 0.2};
  const InverseSetup puma = prepare_inverse(puma560());
  for (const double value : {0.0, -0.4}) {
    const Solutions found = solved(puma, q, value);
    bool there = false;
    for (int k = 0; k < found.count; ++k) {
      const Solution& s = found.solution[static_cast<std::size_t>(k)];
      if (s.free_joint < 0) continue;
      REQUIRE(s.free_joint == 3);
      REQUIRE(std::fabs(s.q[3] - value) < 1e-12);
      std::array<double, 6> same_line = q;
      same_line[3] = value;
      same_line[5] = q[3] + q[5] - value;
      there = there || distance(s.q, same_line) < 1e-9;
    }
    REQUIRE(there);
  }
}

TEST_CASE("three parallel axes and the last in line: joint 6 is free, as near to its set value as the links reach") {
  const InverseSetup setup = prepare_inverse(ur5());
  Random random{23};
  for (int k = 0; k < 300; ++k) {
    auto q = random.posture();
    q[4] = 0;
    const Solutions found = solved(setup, q);
    int free = 0;
    for (int i = 0; i < found.count; ++i) free += found.solution[static_cast<std::size_t>(i)].free_joint == 5;
    REQUIRE(free > 0);
    q[5] = 0;  // reached from there: then it stays there
    double nearest = HUGE_VAL;
    const Solutions stays = solved(setup, q);
    for (int i = 0; i < stays.count; ++i) nearest = std::min(nearest, std::fabs(stays.solution[static_cast<std::size_t>(i)].q[5]));
    REQUIRE(nearest < 1e-9);
  }
}

TEST_CASE("home posture of an arm without offsets, all of it in line, has an answer that holds") {
  const double h = M_PI / 2;
  const SixChain chain = chain_of({{{0, 0.4, 0, -h}, {-h, 0, 0.5, 0}, {0, 0, 0, -h}, {0, 0.5, 0, h}, {0, 0, 0, -h}, {0, 0.1, 0, 0}}});
  const InverseSetup setup = prepare_inverse(chain);
  for (const double q3 : {0.0, h}) {
    Tally t;
    tally(setup, {0, 0, q3, 0, 0, 0}, t);
    REQUIRE(t.answers > 0);
    REQUIRE(t.wrong == 0);
    REQUIRE(t.lost == 0);
  }
}

TEST_CASE("a pose beyond reach by rounding is reached, one beyond by 1e-6 m is not") {
  const InverseSetup setup = prepare_inverse(ur5());
  std::array<double, 6> q{0.4, -0.9, 0, 0.3, 0.8, -0.2};
  const Pose stretched = chain_end(setup.chain, q.data());
  const Vec3 shoulder{0, 0, 0.089159};
  const Vec3 fourth = chain_posture(setup.chain, q.data()).axis[3].point;
  // Away from the shoulder along the stretched links.
  const Vec3 second = chain_posture(setup.chain, q.data()).axis[1].point;
  const Vec3 axis = chain_posture(setup.chain, q.data()).axis[1].direction;
  Vec3 way = fourth - second;
  way = way - dot(way, axis) * axis;
  way = (1 / norm(way)) * way;
  REQUIRE(norm(second - shoulder) < 0.2);
  for (const double beyond : {1e-15, 1e-13, 1e-12, 1e-10}) {
    Pose target = stretched;
    target.position = target.position + beyond * way;
    Solutions out;
    solve_six(setup, target, out);
    double nearest = HUGE_VAL;
    for (int k = 0; k < out.count; ++k) nearest = std::min(nearest, distance(out.solution[static_cast<std::size_t>(k)].q, q));
    REQUIRE(nearest < 1e-4);
  }
  Pose target = stretched;
  target.position = target.position + 1e-6 * way;
  Solutions out;
  solve_six(setup, target, out);
  for (int k = 0; k < out.count; ++k) REQUIRE(distance(out.solution[static_cast<std::size_t>(k)].q, q) > 1e-2);
}

TEST_CASE("right angles written as 1.5708 still have the closed form, made good on the exact chain") {
  SixChain chains[] = {usual_arm(), ur5(), puma560(), reversed(ur5())};
  for (SixChain& chain : chains) {
    for (JointStep& step : chain.step) {
      if (std::fabs(step.cos_alpha) > 0.5) continue;
      const double angle = std::copysign(1.5708, step.sin_alpha);
      step.cos_alpha = std::cos(angle);
      step.sin_alpha = std::sin(angle);
    }
    const InverseSetup setup = prepare_inverse(chain);
    REQUIRE(setup.family != ArmFamily::general);
    Random random{24};
    const Tally t = random_postures(chain, random, 2000);
    REQUIRE(t.wrong == 0);
    REQUIRE(t.lost <= 2);
  }
}

TEST_CASE("numbers that are not finite give no answers and no hang") {
  for (const SixChain& chain : {usual_arm(), ur5()}) {
    const InverseSetup setup = prepare_inverse(chain);
    Pose target = identity_pose;
    target.position.x = std::nan("");
    Solutions out;
    solve_six(setup, target, out);
    REQUIRE(out.count == 0);
    target.position.x = HUGE_VAL;
    solve_six(setup, target, out);
    REQUIRE(out.count == 0);
  }
}
