#include "armwright/model/compile.hpp"

#include <limits>

#include "armwright/support/refused.hpp"
#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// The tool by the compiled steps, multiplied out by hand: Trans(offset) Rx(alpha) Rz(theta) Tz(d).
std::vector<Pose> frames_by_steps(const Model& model, const double* q) {
  std::vector<Pose> frames;
  Pose X = model.base;
  for (std::size_t i = 0; i < model.joint_count; ++i) {
    const JointStep& s = model.step[i];
    const bool turns = s.kind == JointKind::revolute;
    X = X * Pose{turn_about({1, 0, 0}, std::atan2(s.sin_alpha, s.cos_alpha)), s.offset};
    X = X * Pose{turn_about({0, 0, 1}, s.zero + (turns ? q[i] : 0)), {0, 0, 0}} * at({0, 0, turns ? 0 : q[i]});
    frames.push_back(X);
  }
  return frames;
}

void check_chain(const CellSpec& cell, Draw& draw, double tolerance = 1e-13) {
  const Model model = compile(cell);
  for (int k = 0; k < 10; ++k) {
    std::vector<double> q(model.joint_count);
    for (double& x : q) x = draw.uniform(-3, 3);
    const SlowFrames slow = slow_frames(cell, q.data());
    const auto frames = frames_by_steps(model, q.data());
    for (std::size_t i = 0; i < model.joint_count; ++i) CHECK(furthest(frames[i] * model.link_frame[i], slow.link[i]) < tolerance);
    CHECK(furthest(frames.back() * model.tool, slow.tool) < tolerance);
    CHECK(furthest(frames.back() * model.flange, slow.flange) < tolerance);
  }
}

struct Told {
  std::string key, value, expected;
};

Told refusal(const CellSpec& cell) {
  try {
    compile(cell);
  } catch (const Refused& refused) {
    return {refused.key(), refused.value(), refused.expected()};
  }
  return {};
}

void check_refused(const CellSpec& cell, const std::string& key, const std::string& value, const std::string& expected) {
  const Told told = refusal(cell);
  CHECK(told.key == key);
  CHECK(told.value == value);
  CHECK(told.expected == expected);
}

CellSpec good() {
  CellSpec cell = positioner(0.1, 0.5, 0.4);
  cell.track = TrackSpec{};
  cell.track->upper = 2;
  return cell;
}

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN(), infinite = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("the steps reproduce any chain, turning or sliding, with a track or without") {
  Draw draw{1};
  for (std::size_t joints = 1; joints <= 11; ++joints)
    for (const bool track : {false, true}) {
      CellSpec cell = random_cell(draw, joints, joints % 2 == 0);
      if (track) cell.track = random_track(draw);
      check_chain(cell, draw);
    }
}

TEST_CASE("the steps reproduce chains whose axes are parallel, opposite, in line, crossing, or nearly parallel") {
  Draw draw{2};
  for (const double angle : {0.0, 1e-18, 1e-16, 1e-15, 1e-14, 1e-12, 1e-9, 1e-6, 1e-3, 1e-2, 0.09, 0.11, 1.0, quarter_turn})
    for (const bool opposite : {false, true})
      for (const double apart : {0.0, 0.35}) {
        CAPTURE(angle, opposite, apart);
        CellSpec cell = random_cell(draw, 6);
        for (std::size_t i : {1, 2, 4}) {
          const Vec3 before = cell.arm.joints[i - 1].axis, across = frame_on(before).x;
          // Axis i in the joint frame before, leaning by `angle`; its frame set at `apart`, not turned.
          cell.arm.joints[i].placement = at(apart * across + 0.2 * before);
          const Vec3 leaning = turn_about(frame_on(before).y, angle) * before;
          cell.arm.joints[i].axis = ((opposite ? -1.0 : 1.0) / norm(leaning)) * leaning;
        }
        check_chain(cell, draw);
      }
}

TEST_CASE("tool and load count where they hang") {
  Draw draw{3};
  const CellSpec cell = random_cell(draw, 4);
  const Model model = compile(cell);
  const std::vector<double> q{0.3, -0.4, 0.5, -0.6};
  const auto frames = frames_by_steps(model, q.data());
  const SlowFrames slow = slow_frames(cell, q.data());
  const Inertia last = frames[3] * model.link[3], expected = slow.link[3] * cell.arm.links[3].inertia + slow.flange * cell.tool.inertia;
  CHECK(last.mass == Approx(expected.mass));
  CHECK(norm(last.centre - expected.centre) < 1e-13);
  CHECK(last.xx == Approx(expected.xx));
  CHECK(norm(frames[3] * model.load.centre - slow.tool * cell.load->inertia.centre) < 1e-13);
  CHECK(model.load.mass == cell.load->inertia.mass);
}

TEST_CASE("the track is the first joint, with its own range and forces") {
  CellSpec cell = good();
  cell.track->force_continuous = 300, cell.track->force_peak = 500;
  const Model model = compile(cell);
  CHECK(model.joint_count == 7);
  CHECK(model.has_track);
  CHECK(model.joint_names.front() == "track");
  CHECK(model.step[0].kind == JointKind::prismatic);
  CHECK((model.lower[0] == 0 && model.upper[0] == 2));
  CHECK((model.torque_continuous[0] == 300 && model.torque_peak[0] == 500));
  const Model held = held_on_track(model, 0.7);
  CHECK((held.lower[0] == 0.7 && held.upper[0] == 0.7));
  CHECK(held_on_track(compile(positioner(0, 1, 1)), 0.7).lower[0] == -half_turn);
}

TEST_CASE("refusals name the thing, its value and the rule") {
  CHECK(refusal(good()).key.empty());
  CellSpec cell = good();
  cell.arm.joints[2].axis = {0, 0, 2};
  check_refused(cell, "joint 'axis 3' axis", "(0, 0, 2)", "a vector of length 1");
  cell = good(), cell.arm.joints[1].lower = 2, cell.arm.joints[1].upper = 1;
  check_refused(cell, "joint 'axis 2' range", "2 to 1", "a lower limit below the upper");
  cell = good(), cell.arm.joints[1].upper = not_a_number;
  CHECK(refusal(cell).key == "joint 'axis 2' range");
  cell = good(), cell.arm.joints[1].kind = JointKind::prismatic, cell.arm.joints[1].upper = infinite;
  check_refused(cell, "joint 'axis 2' range", "-3.14159265 to inf", "two ends: a prismatic joint needs a stroke");
  cell = good(), cell.arm.joints[0].torque_continuous = -1;
  check_refused(cell, "joint 'axis 1' continuous torque", "-1", "0 or more");
  cell = good(), cell.arm.joints[0].torque_continuous = 10, cell.arm.joints[0].torque_peak = 9;
  check_refused(cell, "joint 'axis 1' peak torque", "9", "at least the continuous torque, 10");
  cell = good(), cell.arm.joints[3].placement.position.y = not_a_number;
  CHECK(refusal(cell).key == "joint 'axis 4' placement position");
  CHECK(refusal(cell).expected == "finite numbers");
  cell = good(), cell.arm.joints[3].placement.rotation.y = {0, -1, 0};
  check_refused(cell, "joint 'axis 4' placement rotation", "a reflection", "a right-handed frame");
  cell = good(), cell.mount.rotation.x = {1, 1e-6, 0};
  check_refused(cell, "mount rotation", "(1, 1e-06, 0) (0, 1, 0) (0, 0, 1)", "axes of length 1 at right angles");
  cell = good(), cell.arm.links[4].inertia.mass = -2;
  check_refused(cell, "link 'link 5' mass", "-2 kg", "0 kg or more");
  cell = good(), cell.arm.links[4].inertia.mass = infinite;
  CHECK(refusal(cell).key == "link 'link 5' mass");
  cell = good(), cell.tool.inertia.centre.z = infinite;
  CHECK(refusal(cell).key == "tool 'tool' centre of gravity");
  cell = good(), cell.gravity.x = not_a_number;
  CHECK(refusal(cell).key == "gravity");
  cell = good(), cell.tool.tool_point.position.x = not_a_number;
  CHECK(refusal(cell).key == "tool point position");
  cell = good(), cell.arm.flange.rotation.z.z = not_a_number;
  CHECK(refusal(cell).key == "flange rotation");
}

TEST_CASE("refusals of counts and of the track") {
  CellSpec cell = good();
  cell.arm.joints.clear(), cell.arm.links.clear();
  check_refused(cell, "joints", "1", "1 to 12");
  cell.track.reset();
  check_refused(cell, "joints", "0", "1 to 12");
  cell = good(), cell.arm.links.pop_back();
  check_refused(cell, "links", "5", "one for each of 6 joints");
  Draw draw{4};
  cell = random_cell(draw, 12);
  CHECK(compile(cell).joint_count == 12);
  cell.track = random_track(draw);
  check_refused(cell, "joints", "13", "1 to 12");
  cell = good(), cell.track->lower = 3;
  check_refused(cell, "track stroke", "3 to 2 m", "two finite ends, the lower first");
  cell = good(), cell.track->upper = infinite;
  CHECK(refusal(cell).key == "track stroke");
  cell = good(), cell.track->axis = {1, 1, 0};
  check_refused(cell, "track axis", "(1, 1, 0)", "a vector of length 1");
  cell = good(), cell.track->carriage.inertia.mass = not_a_number;
  CHECK(refusal(cell).key == "carriage mass");
  cell = good(), cell.track->force_continuous = not_a_number;
  CHECK(refusal(cell).key == "track continuous force");
  cell = good(), cell.track->force_continuous = 5, cell.track->force_peak = 4;
  check_refused(cell, "track peak force", "4", "at least the continuous force, 5");
}

TEST_CASE("an inertia that no body can have is refused; a plate's and a rod's are taken") {
  CellSpec cell = good();
  Inertia& body = cell.arm.links[0].inertia;
  body = {1, {0, 0, 0}, 1, 1, 2, 0, 0, 0};
  CHECK(refusal(cell).key.empty());
  body = {1, {0, 0, 0}, 0, 1, 1, 0, 0, 0};
  CHECK(refusal(cell).key.empty());
  body = {1, {0, 0, 0}, 1, 1, 2.001, 0, 0, 0};
  check_refused(cell, "link 'link 1' inertia", "principal moments 1, 1, 2.001 kg m²", "moments of 0 or more, none larger than the sum of the other two");
  body = {1, {0, 0, 0}, 1, 1, 1, 1.5, 0, 0};  // negative along (1, -1, 0)
  CHECK(refusal(cell).key == "link 'link 1' inertia");
  body = {1, {0, 0, 0}, 1, not_a_number, 1, 0, 0, 0};
  check_refused(cell, "link 'link 1' inertia", "a number that is not finite", "finite numbers");
}
