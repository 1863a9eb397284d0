#include "armwright/dynamics/joint_wrenches.hpp"

#include "armwright/dynamics/inverse_dynamics.hpp"
#include "armwright/model/compile.hpp"
#include "catch_shim.hpp"
#include "momentum.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Motion {
  std::vector<double> q, speed, change;
};

Motion random_motion(Draw& draw, std::size_t n) {
  Motion m{std::vector<double>(n), std::vector<double>(n), std::vector<double>(n)};
  for (std::size_t i = 0; i < n; ++i) m.q[i] = draw.uniform(-1, 1), m.speed[i] = draw.uniform(-1, 1), m.change[i] = draw.uniform(-2, 2);
  return m;
}

CellSpec sprung_cell(Draw& draw, int k) {
  const std::size_t joints = 3 + static_cast<std::size_t>(k) % 5;
  CellSpec cell = random_cell(draw, joints, k % 3 == 0);
  cell.arm.base_link.inertia = draw.body();
  if (k % 2 == 0) cell.track = random_track(draw);
  for (int s = 0; s < k % 3; ++s) {
    SpringSpec spring;
    spring.link_a = s - 1, spring.link_b = static_cast<int>(joints) - 1 - s;
    if (s == 1) std::swap(spring.link_a, spring.link_b);
    spring.point_a = draw.vector(0.4), spring.point_b = draw.vector(0.4);
    spring.length = 0.2, spring.pull = draw.uniform(-200, 300), spring.rate = draw.uniform(0, 2000);
    cell.arm.springs.push_back(spring);
  }
  return cell;
}

struct Case {
  CellSpec cell;
  Model model;
  Motion motion;
};

Case random_case(Draw& draw, int k) {
  const CellSpec cell = sprung_cell(draw, k);
  const Model model = compile(cell);
  return {cell, model, random_motion(draw, model.joint_count)};
}

// Where a spring is fixed, in the world.
Vec3 spring_end(const CellSpec& cell, const SlowFrames& frames, int link, const Vec3& point) {
  const std::size_t first = cell.track ? 1 : 0;
  if (link >= 0) return frames.link[first + static_cast<std::size_t>(link)] * point;
  return (cell.track ? frames.link[0] * cell.mount : cell.mount) * point;
}

// What the springs push all bodies from a link outwards with, about the world's origin: the sum over every end on them.
std::array<double, 6> spring_push(const CellSpec& cell, const SlowFrames& frames, std::size_t first) {
  std::array<double, 6> sum{};
  const int before = cell.track ? 1 : 0;
  for (const SpringSpec& s : cell.arm.springs) {
    const Vec3 a = spring_end(cell, frames, s.link_a, s.point_a), b = spring_end(cell, frames, s.link_b, s.point_b);
    const double length = norm(b - a), pull = s.pull + s.rate * (length - s.length);
    const Vec3 on_a = (pull / length) * (b - a);
    const auto take = [&](int link, const Vec3& at, const Vec3& force) {
      if (link + before < static_cast<int>(first)) return;
      const Vec3 moment = cross(at, force);
      const double parts[6] = {force.x, force.y, force.z, moment.x, moment.y, moment.z};
      for (std::size_t i = 0; i < 6; ++i) sum[i] += parts[i];
    };
    take(s.link_a, a, on_a);
    take(s.link_b, b, -on_a);
  }
  return sum;
}

// A wrench told in a frame, about its origin, told in the world about the world's origin.
std::array<double, 6> in_world(const Pose& X, const double* w) {
  const Vec3 force = X.rotation * Vec3{w[0], w[1], w[2]}, moment = X.rotation * Vec3{w[3], w[4], w[5]} + cross(X.position, force);
  return {force.x, force.y, force.z, moment.x, moment.y, moment.z};
}

void check_same(const std::array<double, 6>& found, const std::array<double, 6>& wanted, double share) {
  double size = 1;
  for (const double v : wanted) size = std::max(size, std::fabs(v));
  for (std::size_t i = 0; i < 6; ++i) CHECK(found[i] == Approx(wanted[i]).margin(share * size).epsilon(0));
}

}  // namespace

TEST_CASE("what a joint gives to all beyond it: change of momentum, less weight and springs") {
  Draw draw{41};
  for (int k = 0; k < 18; ++k) {
    const auto [cell, model, m] = random_case(draw, k);
    const std::size_t n = model.joint_count;
    std::vector<double> found(6 * n);
    joint_wrenches(model, model.load, m.q, m.speed, m.change, found);
    const SlowFrames frames = slow_frames(cell, m.q.data());
    for (std::size_t i = 0; i < n; ++i) {
      CellSpec bodies = cell;  // the foot rides on the carriage
      if (cell.track) bodies.track->carriage.inertia = cell.track->carriage.inertia + cell.mount * cell.arm.base_link.inertia;
      std::array<double, 6> wanted = push_needed(bodies, m.q, m.speed, m.change, i);
      const auto springs = spring_push(cell, frames, i);
      for (std::size_t c = 0; c < 6; ++c) wanted[c] -= springs[c];
      check_same(in_world(frames.link[i], &found[6 * i]), wanted, 2e-5);
    }
  }
}

TEST_CASE("along its axis a joint gives what inverse dynamics tells: virtual work, springs counted") {
  Draw draw{42};
  for (int k = 0; k < 18; ++k) {
    const auto [cell, model, m] = random_case(draw, k);
    const std::size_t n = model.joint_count;
    std::vector<double> found(6 * n), torque(n);
    joint_wrenches(model, model.load, m.q, m.speed, m.change, found);
    inverse_dynamics(model, model.load, m.q, m.speed, m.change, torque);
    const std::size_t track = cell.track ? 1 : 0;
    for (std::size_t i = 0; i < n; ++i) {
      const Vec3 axis = i < track ? cell.track->axis : cell.arm.joints[i - track].axis;
      const std::size_t at = 6 * i + (model.step[i].kind == JointKind::revolute ? 3 : 0);
      CHECK(dot(axis, {found[at], found[at + 1], found[at + 2]}) == Approx(torque[i]).epsilon(1e-11).margin(1e-9));
    }
  }
}

TEST_CASE("the mount bears arm and foot, in their motion on a carriage too; springs leave no mark") {
  Draw draw{43};
  for (int k = 0; k < 18; ++k) {
    const auto [cell, model, m] = random_case(draw, k);
    std::array<double, 6> found{};
    mount_wrenches(model, model.load, m.q, m.speed, m.change, found);
    const SlowFrames frames = slow_frames(cell, m.q.data());
    std::array<double, 6> wanted;
    Pose mount = cell.mount;
    if (cell.track) {  // the carriage's own body is nothing to the mount: the foot stands in its place
      CellSpec bodies = cell;
      bodies.track->carriage.inertia = cell.mount * cell.arm.base_link.inertia;
      wanted = push_needed(bodies, m.q, m.speed, m.change, 0);
      mount = frames.link[0] * cell.mount;
    } else {
      wanted = push_needed(cell, m.q, m.speed, m.change, 0);
      const Inertia foot = cell.mount * cell.arm.base_link.inertia;
      const Vec3 weight = foot.mass * cell.gravity, moment = cross(foot.centre, weight);
      const double parts[6] = {weight.x, weight.y, weight.z, moment.x, moment.y, moment.z};
      for (std::size_t i = 0; i < 6; ++i) wanted[i] -= parts[i];
    }
    for (double& v : wanted) v = -v;
    check_same(in_world(mount, found.data()), wanted, 2e-5);
  }
}

TEST_CASE("what an arm puts on its base: weight less the change of its momentum") {
  Draw draw{23};
  for (int k = 0; k < 12; ++k) {
    CellSpec cell = random_cell(draw, 3 + static_cast<std::size_t>(k) % 4, k % 3 == 0);
    if (k % 2 == 0) cell.track = random_track(draw);
    const Model model = compile(cell);
    const Motion m = random_motion(draw, model.joint_count);
    std::array<double, 6> found{}, wanted = push_needed(cell, m.q, m.speed, m.change, 0);
    base_wrenches(model, model.load, m.q, m.speed, m.change, found);
    for (double& v : wanted) v = -v;
    check_same(found, wanted, 2e-5);
  }
}

TEST_CASE("hand statics: an arm of two links stretched out level, on a foot") {
  // Axis 1 upright at the mount's origin, axis 2 level 0.5 m above it; 8 kg at 0.4 m out, 5 kg carried at 1 m.
  CellSpec cell;
  cell.mount = at({2, 3, 0.25});
  cell.arm.base_link.inertia = {12, {0.1, 0, 0.2}};
  cell.arm.joints = {joint("axis 1", at({0, 0, 0.3}), {0, 0, 1}), joint("axis 2", at({0, 0, 0.2}), {0, 1, 0})};
  cell.arm.links.resize(2);
  cell.arm.links[0].inertia = {6, {0, 0, 0.1}};
  cell.arm.links[1].inertia = {8, {0.4, 0, 0}};
  cell.arm.flange = at({1, 0, 0});
  cell.load = LoadSpec{};
  cell.load->inertia = {5, {0, 0, 0}};
  const Model model = compile(cell);
  const std::vector<double> q{quarter_turn, 0}, still{0, 0};
  std::vector<double> found(12), mount(6);
  joint_wrenches(model, model.load, q, still, still, found);
  mount_wrenches(model, model.load, q, still, still, mount);
  const double moment = (8 * 0.4 + 5 * 1.0) * g0;  // 80.41 N m, held against by turning up about -y of the link
  const double wanted[12] = {0, 0, 19 * g0, 0, -moment, 0, 0, 0, 13 * g0, 0, -moment, 0};
  for (std::size_t i = 0; i < 12; ++i) CHECK(found[i] == Approx(wanted[i]).margin(1e-9));
  // Arm out along +y of the mount: it tips about +x as the weight at +y pulls down; the foot's centre at x = 0.1 about +y.
  const double borne[6] = {0, 0, -31 * g0, -moment, 12 * g0 * 0.1, 0};
  for (std::size_t i = 0; i < 6; ++i) CHECK(mount[i] == Approx(borne[i]).margin(1e-9));
}

TEST_CASE("a row's wrench does not depend on its place in the batch") {
  Draw draw{44};
  const Model model = compile(sprung_cell(draw, 4));
  const std::size_t n = model.joint_count, rows = 7;
  const Motion m = random_motion(draw, n * rows);
  std::vector<double> all(6 * n * rows), one(6 * n), mounts(6 * rows), mount(6), bases(6 * rows), base(6);
  joint_wrenches(model, model.load, m.q, m.speed, m.change, all);
  mount_wrenches(model, model.load, m.q, m.speed, m.change, mounts);
  base_wrenches(model, model.load, m.q, m.speed, m.change, bases);
  for (std::size_t r = 0; r < rows; ++r) {
    const auto part = [&](const std::vector<double>& v) { return std::span<const double>(v).subspan(r * n, n); };
    joint_wrenches(model, model.load, part(m.q), part(m.speed), part(m.change), one);
    mount_wrenches(model, model.load, part(m.q), part(m.speed), part(m.change), mount);
    base_wrenches(model, model.load, part(m.q), part(m.speed), part(m.change), base);
    for (std::size_t i = 0; i < 6 * n; ++i) CHECK(one[i] == all[r * 6 * n + i]);
    for (std::size_t i = 0; i < 6; ++i) CHECK((mount[i] == mounts[r * 6 + i] && base[i] == bases[r * 6 + i]));
  }
}
