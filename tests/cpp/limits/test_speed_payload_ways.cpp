#include "armwright/kinematics/jacobian.hpp"
#include "armwright/limits/speed_payload_ways.hpp"
#include "catch_shim.hpp"
#include "limits/moving_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

TEST_CASE("with six joints the ways are the Jacobian's inverse; with seven those of least kinetic energy") {
  Draw draw{5};
  for (int k = 0; k < 40; ++k) {
    const std::size_t n = k % 2 ? 7 : 6;
    const MovingCase made = moving_case(draw, n, false, false, k % 4 == 1);
    MotionDemand demand;
    demand.tool_acceleration = 1;
    const MovingSetup setup = prepare_moving(made.model, made.unit_load, demand);
    REQUIRE(setup.all_freedoms);
    std::vector<double> rows(6 * n), mass(n * n);
    jacobians(*made.model, made.q, rows);
    mass_matrices(*made.model, Inertia{}, made.q, mass);
    const auto size = static_cast<Eigen::Index>(n);
    const Eigen::MatrixXd J = Eigen::Map<Eigen::Matrix<double, -1, -1, Eigen::RowMajor>>(rows.data(), 6, size);
    const Eigen::MatrixXd M = Eigen::Map<Eigen::MatrixXd>(mass.data(), size, size);
    Pose frames[max_joints];
    joint_frames(*made.model, made.q.data(), frames);
    const ToolWays ways = tool_ways(setup, setup.moving, frames, M);
    CHECK_FALSE(ways.singular);
    Eigen::MatrixXd unit = Eigen::MatrixXd::Zero(6, 3);
    unit.topRows<3>().setIdentity();
    CHECK((J * ways.along - unit).norm() < 1e-7);
    unit = Eigen::MatrixXd::Zero(6, 3);
    unit.bottomRows<3>().setIdentity();
    CHECK((J * ways.about - unit).norm() < 1e-7);
    const Eigen::MatrixXd still_ways = J.fullPivLu().kernel();  // joint motions that leave the tool
    if (n == 7) CHECK((still_ways.transpose() * M * ways.along).norm() < 1e-6 * M.norm() * ways.along.norm());
  }
}

TEST_CASE("an arm of few joints: the tool point goes as asked where the arm can") {
  // Two links in a plane, each 0.5 m: its inverse by hand; a level link of its own turns with it.
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, -1, 0}), joint("axis 2", at({0.5, 0, 0}), {0, -1, 0})};
  cell.arm.links.resize(2);
  cell.arm.links[0].inertia = {2, {0.25, 0, 0}}, cell.arm.links[1].inertia = {1, {0.25, 0, 0}};
  cell.arm.flange = at({0.5, 0, 0});
  for (auto& j : cell.arm.joints) j.torque_peak = j.torque_continuous = 60;
  const MovingCase made{std::make_shared<const Model>(compile(cell)), {0.4, 1.1}, {1, {0, 0, 0}}};
  MotionDemand demand;
  demand.tool_acceleration = 3;
  const MovingSetup setup = prepare_moving(made.model, made.unit_load, demand);
  CHECK_FALSE(setup.all_freedoms);
  CHECK(setup.translations == 2);
  const MovingPayload answer = one(made, demand);
  double worst = 0;
  const double c1 = std::cos(0.4), s1 = std::sin(0.4), c12 = std::cos(1.5), s12 = std::sin(1.5);
  Eigen::Matrix2d J;
  J << -0.5 * s1 - 0.5 * s12, -0.5 * s12, 0.5 * c1 + 0.5 * c12, 0.5 * c12;  // x and z of the tool
  for (int i = 0; i < 3600; ++i) {
    const double angle = i * half_turn / 1800;
    const Eigen::Vector2d a = J.inverse() * Eigen::Vector2d(3 * std::cos(angle), 3 * std::sin(angle));
    worst = std::max(worst, greatest(uses(made, answer.mass, {0, 0}, {a[0], a[1]})));
  }
  CHECK(worst == Approx(1).epsilon(1e-5));
  CHECK(worst < 1 + 1e-9);
  // Stretched out, the arm has no way to go along itself.
  const MovingCase straight{made.model, {0.4, 0}, made.unit_load};
  CHECK(one(straight, demand).limit == MovingLimit::singular);
  CHECK(one(straight, demand).mass == 0);
  CHECK_FALSE(one(straight, demand).moves_itself);
}

TEST_CASE("a lift by hand: m = F / (g + a) - M, and its screw's motor, rotor and efficiency") {
  CellSpec cell;
  cell.arm.joints = {joint("lift", identity_pose, {0, 0, 1}, 0, 1)};
  JointSpec& lift = cell.arm.joints[0];
  lift.kind = JointKind::prismatic;
  lift.torque_continuous = lift.torque_peak = 500;
  lift.acceleration = 4, lift.speed = 0.5;
  cell.arm.links.resize(1);
  cell.arm.links[0].inertia = {10, {0, 0, 0}};
  MotionDemand demand;
  demand.tool_acceleration = 2;
  const auto mass = [&](const MotionDemand& asked) { return one({std::make_shared<const Model>(compile(cell)), {0.3}, {1, {0, 0, 0}}}, asked); };
  CHECK(mass(demand).mass == Approx(500 / (g0 + 2) - 10));
  CHECK(mass(demand).limit == MovingLimit::stated_torque);
  demand.tool_acceleration = 5;  // more than the joint's own 4 m/s²
  CHECK(mass(demand).limit == MovingLimit::joint_acceleration);
  CHECK(mass(demand).mass == 0);
  demand.tool_acceleration = 2;

  // A screw: 1000 rad/m, 80 % efficient, driven back with 50 %; rotor 1e-5 kg m²; motor 0.6 N m at rest, 0.4 at 500 rad/s.
  DriveSpec drive;
  drive.motor.continuous = {{0, 0.3}, {600, 0.3}};
  drive.motor.peak = {{0, 0.6}, {500, 0.4}, {600, 0.36}};
  drive.motor.rotor_inertia = 1e-5;
  StageSpec screw;
  screw.name = "screw", screw.ratio = 1000, screw.efficiency = 0.8, screw.efficiency_back = 0.5;
  drive.stages = {screw};
  drive.joint_friction = {20, 20, 30};
  lift.drive = drive;
  lift.torque_peak = lift.torque_continuous = unlimited;
  // From rest: (M + m)(g + a) / 800 + 1e-5 · 1000 a = 0.6.
  CHECK(mass(demand).mass == Approx((0.6 - 0.02) * 800 / (g0 + 2) - 10));
  CHECK(mass(demand).limit == MovingLimit::motor_torque);
  // Upwards at 0.5 m/s the motor turns at 500 rad/s: ((M + m) g + 20 + 15) / 800 = 0.4. Downwards friction helps and so does the screw.
  MotionDemand speed;
  speed.joint_speed[0] = 0.5;
  CHECK(mass(speed).mass == Approx((0.4 * 800 - 35) / g0 - 10));
  CHECK(mass(speed).demand == Demand::joint_speed);
  // The same speeding up at 1 m/s² meanwhile.
  speed.joint_acceleration[0] = 1;
  CHECK(mass(speed).mass == Approx(((0.4 - 0.01) * 800 - 35) / (g0 + 1) - 10));
  // A motor that cannot turn so fast.
  speed.joint_speed[0] = 0.7;
  const MovingPayload fast = mass(speed);
  CHECK(fast.limit == MovingLimit::motor_speed);
  CHECK(fast.mass == 0);
  const SpeedShare most = greatest_speed_share(prepare_moving(std::make_shared<const Model>(compile(cell)), {1, {0, 0, 0}}, speed));
  CHECK(most.share == Approx(0.6 / 0.7));
  CHECK(most.axis == 0);
  // The screw as the limit: the motor gives 320 N.
  lift.drive->stages[0].rated_torque = lift.drive->stages[0].repeated_peak_torque = 330;
  speed.joint_speed[0] = 0.5, speed.joint_acceleration[0] = 0;
  CHECK(mass(speed).limit == MovingLimit::motor_torque);
  lift.drive->stages[0].rated_torque = lift.drive->stages[0].repeated_peak_torque = 250;
  CHECK(mass(speed).limit == MovingLimit::stage_torque);
  CHECK(mass(speed).mass == Approx((250 - 35) / g0 - 10));
}

TEST_CASE("towards a singular posture the mass falls to nothing") {
  CellSpec cell = positioner(0.1, 0.6, 0.5);
  for (std::size_t i = 0; i < 6; ++i) {
    cell.arm.links[i].inertia = {2, {0.1, 0, 0}, 0.01, 0.01, 0.01, 0, 0, 0};
    cell.arm.joints[i].torque_peak = cell.arm.joints[i].torque_continuous = i < 3 ? 250 : 40;
  }
  const auto model = std::make_shared<const Model>(compile(cell));
  MotionDemand demand;
  demand.tool_acceleration = 2;
  double before = unlimited;
  for (const double elbow : {1.2, 0.4, 0.1, 0.03, 0.01, 0.003, 0.001}) {
    const MovingPayload answer = one({model, {0.2, 0.3, elbow, 0.4, 0.8, 0.1}, {1, {0, 0, 0}}}, demand);
    CHECK(answer.mass <= before);
    before = answer.mass;
  }
  CHECK(before == 0);
  const MovingPayload none = one({model, {0.2, 0.3, 0, 0.4, 0.8, 0.1}, {1, {0, 0, 0}}}, demand);
  CHECK(none.limit == MovingLimit::singular);
  CHECK(none.axis == -1);
  CHECK_FALSE(none.moves_itself);
}

TEST_CASE("a joint without any range is none to accelerate with") {
  Draw draw{7};
  CellSpec cell = random_cell(draw, 6);
  cell.track = random_track(draw);
  for (auto& j : cell.arm.joints) j.torque_peak = j.torque_continuous = 2000;
  const auto with_track = std::make_shared<const Model>(compile(cell));
  const auto held = std::make_shared<const Model>(held_on_track(*with_track, 0.5));
  CellSpec fixed = cell;
  fixed.track.reset();
  fixed.mount = cell.track->pose * at(0.5 * cell.track->axis) * cell.mount;
  const auto standing = std::make_shared<const Model>(compile(fixed));
  MotionDemand demand;
  demand.tool_acceleration = 0.5;
  const std::vector<double> q{0.3, -0.5, 0.7, 1.1, -0.9, 0.2};
  std::vector<double> with = q;
  with.insert(with.begin(), 0.5);
  const Inertia load{1, {0.1, 0, 0}};
  const MovingPayload a = one({held, with, load}, demand), b = one({standing, q, load}, demand);
  CHECK(a.mass == Approx(b.mass).epsilon(1e-9));
  CHECK(a.axis == b.axis + 1);
}

TEST_CASE("four joints: the tool keeps its attitude where the arm can keep it") {
  CellSpec cell;
  cell.arm.joints = {joint("axis 1", identity_pose, {0, 0, 1}), joint("axis 2", at({0.4, 0, 0}), {0, 0, 1}), joint("lift", at({0.3, 0, 0}), {0, 0, 1}, -0.2, 0.2),
                     joint("axis 4", identity_pose, {0, 0, -1})};
  cell.arm.joints[2].kind = JointKind::prismatic;
  cell.arm.links.resize(4);
  for (auto& link : cell.arm.links) link.inertia = {2, {0.1, 0.02, 0}, 0.01, 0.02, 0.02, 0, 0, 0};
  const MovingCase made{std::make_shared<const Model>(compile(cell)), {0.3, 0.9, 0.1, -0.7}, {1, {0.1, 0, 0}}};
  MotionDemand demand;
  demand.tool_acceleration = 1;
  const MovingSetup setup = prepare_moving(made.model, made.unit_load, demand);
  CHECK((setup.translations == 3 && !setup.all_freedoms));
  Pose frames[max_joints];
  joint_frames(*made.model, made.q.data(), frames);
  const ToolWays ways = tool_ways(setup, setup.moving, frames, JointMatrix::Identity(4, 4));
  std::vector<double> rows(24);
  jacobians(*made.model, made.q, rows);
  const Eigen::MatrixXd J = Eigen::Map<Eigen::Matrix<double, 6, 4, Eigen::RowMajor>>(rows.data());
  CHECK((J.topRows<3>() * ways.along - Eigen::Matrix3d::Identity()).norm() < 1e-9);
  CHECK((J.bottomRows<3>() * ways.along).norm() < 1e-9);
}

TEST_CASE("an arm on a track: the better of the track sharing and the track standing") {
  Draw draw{9};
  int shared = 0, stood = 0;
  for (int k = 0; k < 60; ++k) {
    CellSpec cell = random_cell(draw, 6);
    cell.load.reset();
    cell.track = random_track(draw);
    cell.track->force_peak = cell.track->force_continuous = 4000;
    cell.track->acceleration = k % 2 ? 0.05 : unlimited;
    for (auto& j : cell.arm.joints) j.torque_peak = j.torque_continuous = 700;
    const auto model = std::make_shared<const Model>(compile(cell));
    MovingCase made{model, {0.4}, {1, {0.1, 0, 0}}};
    for (int i = 0; i < 6; ++i) made.q.push_back(draw.uniform(-2.5, 2.5));
    MotionDemand demand;
    demand.tool_acceleration = 1;
    const MovingPayload best = one(made, demand), standing = one({std::make_shared<const Model>(held_on_track(*model, 0.4)), made.q, made.unit_load}, demand);
    CHECK(best.mass >= standing.mass * (1 - 1e-9));
    shared += best.mass > standing.mass * (1 + 1e-6);
    stood += best.mass > 0 && best.mass < standing.mass * (1 + 1e-9);
  }
  CHECK((shared > 5 && stood > 5));
}
