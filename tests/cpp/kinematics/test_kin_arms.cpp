#include "armwright/kinematics/inverse/kin_arms.hpp"

#include <algorithm>

#include "armwright/kinematics/chain.hpp"
#include "armwright/kinematics/inverse/setup.hpp"
#include "armwright/kinematics/inverse/spun_arm.hpp"
#include "catch_shim.hpp"
#include "prepared.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

// Arms of two to eight joints, turning and sliding, on a track.
std::vector<CellSpec> cells_on_track() {
  Draw draw{11};
  std::vector<CellSpec> cells;
  for (std::size_t joints = 2; joints <= 8; ++joints)
    for (const bool sliding : {false, true}) {
      if (joints == 8 && !sliding) continue;  // takes seconds
      cells.push_back(random_cell(draw, joints, sliding));
      TrackSpec track;
      track.axis = draw.direction(), track.lower = -0.7, track.upper = 1.1, track.carriage.name = "carriage";
      cells.back().track = track;
    }
  return cells;
}

std::vector<double> answers(const ArmInverse& inverse, const Pose& target) {
  std::vector<double> values, all;
  for (const std::size_t joint : inverse.redundant) values.push_back(0.5 * (inverse.model.lower[joint] + inverse.model.upper[joint]));
  ArmSolutions found;
  solve_arm(inverse, hold(inverse, values), target, found);
  for (int k = 0; k < found.count; ++k) all.insert(all.end(), found.solution[static_cast<std::size_t>(k)].q.begin(), found.solution[static_cast<std::size_t>(k)].q.end());
  return all;
}

Pose some_target(const Model& model, Draw& draw) {
  std::array<double, max_joints> q{};
  for (std::size_t i = 0; i < model.joint_count; ++i) q[i] = draw.uniform(-0.5, 0.5);
  std::array<Pose, max_joints> frames;
  joint_frames(model, q.data(), frames.data());
  return frames[model.joint_count - 1] * model.tool;
}

}  // namespace

TEST_CASE("an inverse with the track given, or held, made from the one that stands, is the one prepared anew") {
  Draw draw{5};
  int others = 0, solved = 0;
  for (const CellSpec& cell : cells_on_track()) {
    const auto inverse = prepared_of(cell);
    const Model& model = inverse->model;
    const auto given = with_track_given(inverse);
    const ArmInverse anew = prepare_arm_inverse(model, true), held = with_track_held(*inverse);
    const ArmInverse held_anew = prepare_arm_inverse(held_on_track(model, 0.5 * (model.lower[0] + model.upper[0])));
    CHECK(given == with_track_given(inverse));
    CHECK(given->redundant == anew.redundant);
    CHECK(given->redundant.front() == 0);
    CHECK(held.redundant == held_anew.redundant);
    CHECK(held.model.lower[0] == held.model.upper[0]);
    others += given != inverse;
    for (int k = 0; k < 4; ++k) {
      const Pose target = some_target(model, draw);
      CHECK(answers(*given, target) == answers(anew, target));
      CHECK(answers(held, target) == answers(held_anew, target));
      solved += !answers(anew, target).empty();
    }
  }
  CHECK(others > 0);
  CHECK(solved > 5);
}

TEST_CASE("the spun arm is prepared once") {
  Draw draw{9};
  const auto inverse = prepared_of(random_cell(draw, 5));
  const auto spun = spun_arm(*inverse);
  REQUIRE(spun);
  CHECK(spun->model.joint_count == 6);
  CHECK(spun == spun_arm(*inverse));
  CHECK(spun_arm(*prepared_of(random_cell(draw, 6))) == nullptr);
}
