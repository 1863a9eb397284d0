#include "armwright/kinematics/inverse/general.hpp"

#include "armwright/kinematics/inverse/general/resultant.hpp"
#include "armwright/kinematics/inverse/general/search.hpp"

#include <Eigen/Dense>

#include "catch_shim.hpp"
#include "kinematics/arms.hpp"
#include "kinematics/check_inverse.hpp"
#include "kinematics/general_arms.hpp"

// The whole acceptance run, 100 arms of 1e4 postures: ARMWRIGHT_POSTURES=10000 test_kinematics "general*".

using namespace armwright;
using namespace armwright::testing;

namespace {

// Counts a posture as lost if it is not among the answers within 1e-5 rad. A free joint is no excuse here.
void tally_general(const GeneralSetup& setup, const std::array<double, 6>& q, Tally& t) {
  const Pose target = chain_end(setup.chain, q.data());
  Solutions out;
  solve_general(setup, target, out);
  if (!(count_answers(setup.chain, target, out, q, t) < 1e-5)) ++t.lost;
  if (any_free(out)) ++t.free;
}

Tally general_postures(const SixChain& chain, Random& random, int count) {
  const GeneralSetup setup = prepare_general(chain);
  Tally t;
  for (int k = 0; k < count; ++k) tally_general(setup, random.posture(), t);
  return t;
}

using Matrix6 = Eigen::Matrix<double, 6, 6>;

Matrix6 jacobian_at(const SixChain& chain, const std::array<double, 6>& q) {
  const ChainPosture posture = chain_posture(chain, q.data());
  Matrix6 J;
  for (int i = 0; i < 6; ++i) {
    const AxisLine& axis = posture.axis[static_cast<std::size_t>(i)];
    const Vec3 v = cross(axis.direction, posture.end.position - axis.point);
    J.col(i) << v.x, v.y, v.z, axis.direction.x, axis.direction.y, axis.direction.z;
  }
  return J;
}

// A posture where the Jacobian's determinant changes sign, on a line through two random postures.
std::array<double, 6> singular_posture(const SixChain& chain, Random& random) {
  for (;;) {
    const auto a = random.posture(), b = random.posture();
    const auto at = [&](double u) {
      std::array<double, 6> q;
      for (std::size_t i = 0; i < 6; ++i) q[i] = a[i] + u * (b[i] - a[i]);
      return q;
    };
    const double first = jacobian_at(chain, a).determinant();
    if (first * jacobian_at(chain, b).determinant() > 0) continue;
    double low = 0, high = 1;
    for (int k = 0; k < 100; ++k) {
      const double middle = 0.5 * (low + high);
      (jacobian_at(chain, at(middle)).determinant() * first > 0 ? low : high) = middle;
    }
    return at(low);
  }
}

// On a singularity the pose is reached within rounding from a whole neighbourhood, as wide as a root of the rounding
// error: so much the posture may differ.
constexpr double singular_tolerance = 3e-3;  // rad

struct SingularTally {
  int poses = 0, lost = 0, wrong = 0, free = 0;
};

void tally_singular(const GeneralSetup& setup, const std::array<double, 6>& q, SingularTally& t) {
  const Pose target = chain_end(setup.chain, q.data());
  Solutions out;
  solve_general(setup, target, out);
  ++t.poses;
  bool there = false, free = false;
  for (int k = 0; k < out.count; ++k) {
    const Solution& s = out.solution[static_cast<std::size_t>(k)];
    if (!accepted(pose_error(setup.chain, target, s.q.data()))) ++t.wrong;
    there = there || distance(s.q, q) < singular_tolerance;
    free = free || s.free_joint >= 0;
  }
  if (!there && free) ++t.free;
  if (!there && !free) ++t.lost;
}

}  // namespace

TEST_CASE("general arms of random geometry: every posture is among its pose's answers") {
  Random random{2024};
  Tally sum;
  for (int arm = 0; arm < 100; ++arm) {
    add(sum, general_postures(chain_of(random_rows(random), random_tool(random)), random, posture_count(200)));
  }
  CAPTURE(sum.poses, sum.answers, sum.lost, sum.worst_position, sum.worst_rotation);
  CHECK(sum.wrong == 0);
  CHECK(sum.lost <= sum.poses / 10000);
  CHECK(sum.most <= 16);
}

TEST_CASE("general arms of degenerate geometry: every posture is among its pose's answers") {
  Random random{7};
  for (const Family& family : degenerate_families()) {
    Tally sum;
    for (int arm = 0; arm < 5; ++arm) {
      add(sum, general_postures(chain_of(family.rows(random), random_tool(random)), random, posture_count(200)));
    }
    CAPTURE(family.name, sum.poses, sum.answers, sum.lost, sum.worst_position, sum.worst_rotation);
    CHECK(sum.wrong == 0);
    CHECK(sum.lost <= sum.poses / 1000);
    CHECK(sum.most <= 16);
  }
}

TEST_CASE("general method against the closed forms: as many answers, the same ones") {
  Random random{5};
  for (int arm = 0; arm < 10; ++arm) {
    const SixChain chain = arm % 2 == 0 ? random_elbow(random, true) : random_three_parallel(random, false);
    const InverseSetup closed = prepare_inverse(chain);
    REQUIRE(closed.family != ArmFamily::general);
    const GeneralSetup general = prepare_general(chain);
    int different = 0;
    for (int k = 0; k < 100; ++k) {
      const auto q = random.posture();
      const Pose target = chain_end(chain, q.data());
      Solutions a, b;
      solve_six(closed, target, a);
      solve_general(general, target, b);
      if (a.count != b.count) ++different;
    }
    CAPTURE(arm);
    CHECK(different <= 1);  // a pair that is nearly one may be counted once here and twice there
  }
}

TEST_CASE("general arms on singular postures: the posture or a representative of its curve, never a wrong answer") {
  Random random{99};
  const auto try_arm = [&](const SixChain& chain, const std::string& name, double share) {
    const GeneralSetup setup = prepare_general(chain);
    SingularTally t;
    for (int k = 0; k < 30; ++k) tally_singular(setup, singular_posture(chain, random), t);
    CAPTURE(name, t.poses, t.lost, t.free);
    CHECK(t.wrong == 0);
    CHECK(t.lost <= share * t.poses);
  };
  for (int arm = 0; arm < 10; ++arm) try_arm(chain_of(random_rows(random), random_tool(random)), "random", 0);
  for (const Family& family : degenerate_families()) {
    try_arm(chain_of(family.rows(random), random_tool(random)), family.name, 0.07);
  }
}

TEST_CASE("general method names the free joint of a wrist in line, and sets it") {
  const SixChain chain = usual_arm();  // spherical wrist: has a closed form, but the general method must stand it
  const GeneralSetup setup = prepare_general(chain);
  const std::array<double, 6> q{0.3, -0.7, 0.5, 0.9, 0, -0.4};
  const Pose target = chain_end(chain, q.data());
  Solutions out;
  solve_general(setup, target, out, 0.25);
  int free = 0;
  for (int k = 0; k < out.count; ++k) {
    const Solution& s = out.solution[static_cast<std::size_t>(k)];
    CHECK(accepted(pose_error(chain, target, s.q.data())));
    if (s.free_joint < 0) continue;
    ++free;
    CHECK(s.free_joint == 3);
    CHECK(s.q[3] == Approx(0.25));
    if (std::fabs(s.q[2] - q[2]) < 1e-6) CHECK(std::fabs(wrapped(s.q[3] + s.q[5] - 0.5)) < 1e-6);
  }
  CHECK(free >= 1);
}

TEST_CASE("general method: a pose out of reach has no answer") {
  Random random{3};
  for (int arm = 0; arm < 10; ++arm) {
    const ArmRows rows = random_rows(random);
    const SixChain chain = chain_of(rows, identity_pose);
    const GeneralSetup setup = prepare_general(chain);
    double reach = 0;
    for (std::size_t i = 0; i < 6; ++i) reach += std::hypot(rows.a[i], rows.d[i]);
    for (int k = 0; k < 50; ++k) {
      Pose target = random.pose(1);
      target.position = (1.01 * reach) * random.direction();
      Solutions out;
      solve_general(setup, target, out);
      CHECK(out.count == 0);
    }
  }
}

TEST_CASE("general method: the same answers again, bit for bit") {
  Random random{8};
  const SixChain chain = chain_of(random_rows(random), random_tool(random));
  const GeneralSetup one = prepare_general(chain), two = prepare_general(chain);
  for (int k = 0; k < 50; ++k) {
    const auto q = random.posture();
    const Pose target = chain_end(chain, q.data());
    Solutions a, b;
    solve_general(one, target, a);
    solve_general(two, target, b);
    REQUIRE(a.count == b.count);
    for (int i = 0; i < a.count; ++i) CHECK(a.solution[static_cast<std::size_t>(i)].q == b.solution[static_cast<std::size_t>(i)].q);
  }
}

TEST_CASE("general method: arms and poses that make no sense give no wrong answer, no hang") {
  Random random{17};
  SixChain no_size;  // all axes in one line, no lengths
  for (JointStep& step : no_size.step) step = step_of({0, 0, 0}, 0, 0);
  SixChain point = no_size;  // all axes through one point
  for (JointStep& step : point.step) step = step_of({0, 0, 0}, 1.0, 0);
  for (const SixChain& chain : {no_size, point, chain_of(random_rows(random), identity_pose)}) {
    const GeneralSetup setup = prepare_general(chain);
    for (int k = 0; k < 5; ++k) {
      Pose target = chain_end(chain, random.posture().data());
      Solutions out;
      solve_general(setup, target, out);
      for (int i = 0; i < out.count; ++i) {
        CHECK(accepted(pose_error(chain, target, out.solution[static_cast<std::size_t>(i)].q.data())));
      }
      target.position.x = std::nan("");
      solve_general(setup, target, out);
      CHECK(out.count == 0);
      target.position.x = HUGE_VAL;
      solve_general(setup, target, out);
      CHECK(out.count == 0);
    }
  }
}

namespace {

// The twelve equations in twelve terms themselves (see resultant.hpp), by Eigen's pivoted factors.
double twelve_by_twelve(const Sigma& sigma, double cosine, double sine) {
  Eigen::Matrix<double, 12, 12> M = Eigen::Matrix<double, 12, 12>::Zero();
  for (int i = 0; i < 6; ++i) {
    for (int t = 0; t < 9; ++t) {
      const auto row = static_cast<std::size_t>(i), term = static_cast<std::size_t>(t);
      M(i, t) = M(6 + i, t + 3) = sigma.one[row][term] + cosine * sigma.cosine[row][term] + sine * sigma.sine[row][term];
    }
  }
  return M.fullPivLu().determinant();
}

}  // namespace

TEST_CASE("the determinant at several angles at once is the one at each, to rounding, and Eigen's") {
  Random random{21};
  const auto families = degenerate_families();
  for (int arm = 0; arm < 60; ++arm) {
    const ArmRows rows = arm % 2 == 0 ? random_rows(random) : families[static_cast<std::size_t>(arm / 2) % families.size()].rows(random);
    const GeneralSetup setup = prepare_general(chain_of(rows, random_tool(random)));
    const Loop loop = relabelled(loop_for(setup, chain_end(setup.chain, random.posture().data())), setup.way[0]);
    const Sigma sigma = eliminate(left_tensor(loop, setup.offsets), right_side(loop), loop.slides);
    for (std::size_t count = 0; count <= 9; ++count) {
      std::array<double, 9> cosine{}, sine{}, values;
      values.fill(7);
      double largest = 0;
      for (std::size_t k = 0; k < count; ++k) {
        const double angle = random.uniform(-M_PI, M_PI);
        cosine[k] = std::cos(angle), sine[k] = std::sin(angle);
        largest = std::fmax(largest, std::fabs(resultant(sigma, cosine[k], sine[k])));
      }
      resultants(sigma, cosine.data(), sine.data(), count, values.data());
      for (std::size_t k = 0; k < count; ++k) CHECK(std::fabs(values[k] - resultant(sigma, cosine[k], sine[k])) <= 1e-11 * largest + 1e-17 * setup.usual_size[0]);
      for (std::size_t k = count; k < 9; ++k) CHECK(values[k] == 7);
      // What is left of the upper half trades places with the pivots of the lower, nine exchanges: the sign is the other one.
      for (std::size_t k = 0; k < count; ++k) CHECK(std::fabs(values[k] + twelve_by_twelve(sigma, cosine[k], sine[k])) <= 1e-10 * largest);
    }
  }
  // No equations at all, and a column that is empty.
  const Sigma none{};
  double value = 7;
  const double one = 1, zero = 0;
  resultants(none, &one, &zero, 1, &value);
  CHECK(value == 0);
}
