#include "armwright/clearance/work_point.hpp"

#include <cmath>

#include "armwright/kinematics/attitudes.hpp"
#include "armwright/model/compile.hpp"
#include "cell_cases.hpp"
#include "prepared.hpp"
#include "catch_shim.hpp"

using namespace armwright;
using namespace armwright::testing;

TEST_CASE("postures at a work point: the tool there, its axis along a direction asked for, within the limits") {
  const PostureSearch search = make_search(prepared_of(positioner(0.1, 0.5, 0.45)), nullptr, 0, 0.1, 0.3);
  TargetSpec target;
  const std::vector<double> posture{0.2, 0.9, -1.3, 0.3, 0.8, -0.2};
  std::array<Pose, max_joints> frames;
  joint_frames(*search.model, posture.data(), frames.data());
  target.pose = frames[5] * search.model->tool;
  target.tilt = 0.4;
  for (const bool free : {false, true}) {
    target.free_spin = free;
    const WorkPoint point{search, nullptr, target};
    for (const Vec3& direction : cone_directions(target.pose.rotation.z, target.tilt, 0.2)) {
      const std::vector<double> rows = work_point_postures(point, std::vector<Vec3>{direction}, 0.5);
      REQUIRE(rows.size() >= (free ? 13 : 1) * 6);
      for (std::size_t at = 0; at < rows.size(); at += 6) {
        joint_frames(*search.model, rows.data() + at, frames.data());
        const Pose tool = frames[5] * search.model->tool;
        CHECK(norm(tool.position - target.pose.position) < 1e-9);
        CHECK(norm(tool.rotation.z - direction) < 1e-9);
        CHECK(limit_margin(*search.model, rows.data() + at) >= 0);
        // Without a spin of its own the attitude is the one of the least turn: square to what was turned about.
        if (!free) CHECK(norm(tool.rotation.x - tilted_to(target.pose.rotation, direction).x) < 1e-9);
      }
    }
  }
  CHECK(spins_at({search, nullptr, target}, target.pose.rotation.z, 0.5).size() == 13);
  target.pose.position = {5, 0, 0};
  CHECK(work_point_postures({search, nullptr, target}, std::vector<Vec3>{target.pose.rotation.z}, 0.5).empty());
}
