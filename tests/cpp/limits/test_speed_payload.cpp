#include "armwright/limits/speed_payload.hpp"

#include "armwright/kinematics/jacobian.hpp"
#include "armwright/limits/static_payload.hpp"
#include "catch_shim.hpp"
#include "limits/moving_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

MotionDemand share_of_limits(const Model& model, double speed, double acceleration) {
  MotionDemand demand;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    demand.joint_speed[i] = speed > 0 ? speed * model.speed[i] : 0;
    demand.joint_acceleration[i] = acceleration > 0 ? acceleration * model.acceleration[i] : 0;
  }
  return demand;
}

// Joint accelerations for a tool acceleration and turning, by the Jacobian alone (six joints).
std::vector<double> by_jacobian(const MovingCase& made, const Vec3& a, const Vec3& b) {
  std::vector<double> J(36);
  jacobians(*made.model, made.q, J);
  Eigen::VectorXd wanted(6);
  wanted << a.x, a.y, a.z, b.x, b.y, b.z;
  const Eigen::VectorXd x = Eigen::Map<Eigen::Matrix<double, 6, 6, Eigen::RowMajor>>(J.data()).fullPivLu().solve(wanted);
  return {x.data(), x.data() + 6};
}

const std::vector<double> still(12, 0.0);

// Each limit's greatest use over all directions of both accelerations: linear at rest, so a constant and two gradients.
std::vector<double> worst_uses(const MovingCase& made, double mass, double along, double about) {
  const std::vector<double> rest(still.begin(), still.begin() + 6);
  const auto base = uses(made, mass, rest, rest);
  std::vector<Vec3> gradient(2 * base.size(), {0, 0, 0});
  for (int axis = 0; axis < 3; ++axis) {
    const Vec3 e{axis == 0 ? 1.0 : 0.0, axis == 1 ? 1.0 : 0.0, axis == 2 ? 1.0 : 0.0};
    const auto moved = uses(made, mass, rest, by_jacobian(made, e, {0, 0, 0})), turned = uses(made, mass, rest, by_jacobian(made, {0, 0, 0}, e));
    for (std::size_t i = 0; i < base.size(); ++i) {
      gradient[2 * i] = gradient[2 * i] + (moved[i] - base[i]) * e;
      gradient[2 * i + 1] = gradient[2 * i + 1] + (turned[i] - base[i]) * e;
    }
  }
  std::vector<double> worst;
  for (std::size_t i = 0; i < base.size(); ++i) worst.push_back(std::fabs(base[i]) + along * norm(gradient[2 * i]) + about * norm(gradient[2 * i + 1]));
  return worst;
}

int touched(const std::vector<double>& used, double within) {
  return static_cast<int>(std::count_if(used.begin(), used.end(), [&](double u) { return std::fabs(std::fabs(u) - 1) < within; }));
}

}  // namespace

TEST_CASE("a tool acceleration any way: at the answer one limit is touched, in its worst direction, and none is passed in any") {
  Draw draw{1};
  int limited = 0;
  for (int k = 0; k < 200; ++k) {
    const MovingCase made = moving_case(draw, 6, k % 3 == 1, k % 4 == 1);
    MotionDemand demand;
    demand.tool_acceleration = draw.uniform(0.1, 0.8);
    if (k % 2) demand.turn_acceleration = draw.uniform(0.1, 0.5);
    Model loose = *made.model;
    loose.acceleration.fill(unlimited);
    const MovingCase same{std::make_shared<const Model>(loose), made.q, made.unit_load};
    const MovingPayload answer = one(same, demand);
    const auto at = [&](double mass) { return worst_uses(made, mass, demand.tool_acceleration, demand.turn_acceleration); };
    CHECK(answer.moves_itself == (greatest(at(0)) <= 1));
    if (!answer.moves_itself) {
      CHECK(answer.mass == 0);
      continue;
    }
    REQUIRE(answer.mass < infinite);
    ++limited;
    CHECK(greatest(at(answer.mass)) == Approx(1).epsilon(1e-8));
    CHECK(touched(at(answer.mass), 1e-8) == 1);
    CHECK(greatest(at(0.999 * answer.mass)) < 1);
    for (int i = 0; i < 40; ++i) {
      const auto q2 = by_jacobian(made, demand.tool_acceleration * draw.direction(), demand.turn_acceleration * draw.direction());
      CHECK(greatest(uses(made, answer.mass, std::vector<double>(6, 0.0), q2)) < 1 + 1e-9);
    }
  }
  CHECK(limited > 60);
}

TEST_CASE("joint accelerations of all signs, enumerated: one limit is touched and none passed") {
  Draw draw{2};
  int limited = 0;
  for (int k = 0; k < 150; ++k) {
    const MovingCase made = moving_case(draw, 2 + static_cast<std::size_t>(k % 5), k % 3 == 1, k % 4 == 1, k % 5 == 2);
    const MotionDemand demand = share_of_limits(*made.model, 0, draw.uniform(0.2, 1));
    const MovingPayload answer = one(made, demand);
    const std::size_t n = made.q.size();
    const auto most = [&](double mass) {
      std::vector<double> worst;
      for_signs(n, [&](const std::vector<double>& signs) {
        std::vector<double> a(n);
        for (std::size_t i = 0; i < n; ++i) a[i] = signs[i] * demand.joint_acceleration[i];
        const auto used = uses(made, mass, std::vector<double>(n, 0.0), a);
        worst.resize(used.size(), 0.0);
        for (std::size_t i = 0; i < used.size(); ++i) worst[i] = std::max(worst[i], std::fabs(used[i]));
      });
      return worst;
    };
    CHECK(answer.moves_itself == (greatest(most(0)) <= 1));
    if (!answer.moves_itself || answer.mass == infinite) continue;
    ++limited;
    CHECK(greatest(most(answer.mass)) == Approx(1).epsilon(1e-9));
    CHECK(touched(most(answer.mass), 1e-9) == 1);
    CHECK(answer.demand == Demand::joint_acceleration);
  }
  CHECK(limited > 60);
}

TEST_CASE("joint speeds of all signs, enumerated, with and without accelerations at that speed") {
  Draw draw{3};
  int limited = 0, coupled_limited = 0;
  for (int k = 0; k < 160; ++k) {
    const bool coupled = k % 3 == 1, accelerates = k % 2 == 1;
    const std::size_t n = 2 + static_cast<std::size_t>(k % (accelerates ? 3 : 5));
    const MovingCase made = moving_case(draw, n, coupled, k % 4 == 1, k % 5 == 2);
    const MotionDemand demand = share_of_limits(*made.model, draw.uniform(0.3, 1), accelerates ? 0.4 : 0);
    const MovingPayload answer = one(made, demand);
    const auto most = [&](double mass) {
      double worst = 0;
      for_signs(n, [&](const std::vector<double>& way) {
        std::vector<double> w(n), a(n);
        for (std::size_t i = 0; i < n; ++i) w[i] = way[i] * demand.joint_speed[i];
        for_signs(accelerates ? n : 0, [&](const std::vector<double>& signs) {
          for (std::size_t i = 0; accelerates && i < n; ++i) a[i] = signs[i] * demand.joint_acceleration[i];
          worst = std::max({worst, greatest(uses(made, mass, w, a)), greatest(uses(made, mass, std::vector<double>(n, 0.0), a)),
                            greatest(uses(made, mass, std::vector<double>(n, 0.0), std::vector<double>(n, 0.0)))});
        });
      });
      return worst;
    };
    if (coupled && accelerates) {  // then a bound
      if (answer.moves_itself && answer.mass < infinite) {
        ++coupled_limited;
        CHECK(most(answer.mass) < 1 + 1e-9);
        CHECK(most(answer.mass) > 0.7);
      }
      continue;
    }
    CHECK(answer.moves_itself == (most(0) <= 1));
    if (!answer.moves_itself || answer.mass == infinite) continue;
    ++limited;
    CHECK(most(answer.mass) == Approx(1).epsilon(1e-9));
    CHECK(most(1.001 * answer.mass) > 1);
  }
  CHECK(limited > 40);
  CHECK(coupled_limited > 5);
}

TEST_CASE("nothing asked is the static peak payload; more asked never carries more") {
  Draw draw{4};
  for (int k = 0; k < 100; ++k) {
    const MovingCase made = moving_case(draw, 6, k % 3 == 1, k % 4 == 1);
    StaticPayload held;
    std::vector<double> by_joint(made.model->joint_count);
    static_payloads(*made.model, made.model->tool * made.unit_load.centre, Limit::peak, made.q,
                    {{&held.mass, 1}, {&held.joint, 1}, {&held.holds_itself, 1}, by_joint});
    const MovingPayload at_rest = one(made, {});
    CHECK(at_rest.mass == Approx(held.mass).epsilon(1e-12));
    CHECK(at_rest.axis == held.joint);
    CHECK(at_rest.moves_itself == held.holds_itself);
    double before[3] = {held.mass * (1 + 1e-12), held.mass * (1 + 1e-12), held.mass * (1 + 1e-12)};
    for (const double share : {1e-9, 0.05, 0.2, 0.5, 1.0}) {
      MotionDemand tool;
      tool.tool_acceleration = share, tool.turn_acceleration = k % 2 ? share : 0;
      const double now[3] = {one(made, tool).mass, one(made, share_of_limits(*made.model, 0, share)).mass,
                             one(made, share_of_limits(*made.model, 0.5, share)).mass};
      for (int i = 0; i < 3; ++i) {
        CHECK(now[i] <= before[i] * (1 + 1e-12));
        before[i] = now[i];
      }
    }
  }
}

TEST_CASE("all masses, inertias, strengths and losses k-fold carry k-fold") {
  Draw draw{6};
  for (int i = 0; i < 30; ++i) {
    const MovingCase made = moving_case(draw, 6, i % 2 == 1, i % 3 == 1);
    const double k = draw.uniform(0.3, 4);
    Model big = *made.model;
    for (std::size_t j = 0; j < 6; ++j) {
      big.link[j] = times(k, big.link[j]);
      big.link[j].mass = k * made.model->link[j].mass;
      big.link[j] = {k * made.model->link[j].mass, made.model->link[j].centre, k * made.model->link[j].xx, k * made.model->link[j].yy, k * made.model->link[j].zz,
                     k * made.model->link[j].xy, k * made.model->link[j].xz, k * made.model->link[j].yz};
      big.stated_peak[j] *= k;
      big.torque_peak[j] *= k;
      Drive& d = big.drive[j];
      for (double& t : d.peak.torque) t *= k;
      for (StageSpec& s : d.stage) s.repeated_peak_torque *= k, s.inertia *= k;
      d.rotor_inertia *= k, d.inertia *= k;
      for (FrictionSpec* f : {&d.motor_friction, &d.joint_friction}) f->coulomb_forward *= k, f->coulomb_backward *= k, f->viscous *= k;
    }
    for (Spring& s : big.springs) s.pull *= k, s.rate *= k;
    MotionDemand demand = share_of_limits(big, 0.3, 0.2);
    demand.tool_acceleration = 0.2;
    const MovingPayload small = one(made, demand), large = one({std::make_shared<const Model>(big), made.q, made.unit_load}, demand);
    CHECK(large.mass == Approx(k * small.mass).epsilon(1e-8));
    CHECK(large.axis == small.axis);
    CHECK(large.limit == small.limit);
  }
}
