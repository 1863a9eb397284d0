#include <algorithm>
#include <cmath>

#include "armwright/kinematics/attitudes.hpp"
#include "armwright/kinematics/jacobian_columns.hpp"
#include "armwright/limits/payload_of.hpp"
#include "armwright/studies/payload.hpp"
#include "armwright/studies/reach.hpp"
#include "catch_shim.hpp"
#include "posture_cases.hpp"

// Maps worked out for many postures at once, against one posture at a time.

using namespace armwright;
using namespace armwright::testing;

namespace {

struct PlainMap {
  std::int32_t reached = 0;
  double limit_margin = -1, manipulability = -1, clearance = -unlimited, greatest = -1, least = unlimited;
  double lowest = unlimited, highest = -unlimited;  // of the track positions tried, those that serve
  bool on_edge = false;                             // a posture stands so near the margin that rounding decides
};

double volume_of(const Model& model, const Pose* frames) {
  std::array<JacobianColumn<double>, max_joints> columns;
  jacobian_columns(model, frames, columns.data());
  return gram_volume<0, 6>(columns.data(), model.joint_count);
}

PlainMap plain_map(const PostureSearch& search, PostureWork& work, const Vec3& position, const std::vector<Rotation>& attitudes, const Vec3& centre) {
  PlainMap map;
  for (const Rotation& attitude : attitudes) {
    double best = -1;
    any_held(search, {attitude, position}, [&](const HeldArm& held) {
      return visit_within_limits(search, work, {attitude, position}, held, [&](const Posture& posture) {
        const double distance = search.scene ? least_distance(*search.scene, posture.frames, *work.clearance, unlimited).distance : unlimited;
        const bool clear = is_clear(search, work, posture, search.margin);
        map.on_edge = map.on_edge || (search.scene && clear != is_clear(search, work, posture, search.margin + 1e-6)) || posture.limit_margin < 1e-6;
        if (!clear) return false;
        map.limit_margin = std::max(map.limit_margin, posture.limit_margin);
        map.manipulability = std::max(map.manipulability, volume_of(*search.model, posture.frames));
        map.clearance = std::max(map.clearance, distance);
        best = std::max(best, posture_payload(*search.model, posture.frames, centre, Limit::continuous).mass);
        if (search.samples_track) map.lowest = std::min(map.lowest, held.held[0]), map.highest = std::max(map.highest, held.held[0]);
        return false;
      });
    });
    if (best < 0) continue;
    ++map.reached;
    map.greatest = std::max(map.greatest, best), map.least = std::min(map.least, best);
  }
  return map;
}

bool near(double a, double b, double within) { return a == b || std::fabs(a - b) <= within * (1 + std::fabs(b)); }

}  // namespace

TEST_CASE("maps are those of one posture at a time") {
  Draw draw{67};
  int reached = 0, partly = 0;
  for (int trial = 0; trial < 36; ++trial) {
    CellSpec cell = some_cell(draw, trial);
    for (JointSpec& j : cell.arm.joints) j.torque_continuous = j.torque_peak = draw.uniform(1, 200);
    for (LinkSpec& link : cell.arm.links) link.inertia = draw.body();
    const PostureSearch search = search_in(cell, trial % 5 != 4, trial % 2 ? 0.02 : 0);
    const auto attitudes = attitudes_along(spread_directions(trial % 7 == 0 ? 40 : 6), 1 + static_cast<std::size_t>(trial) % 3);
    std::vector<Vec3> positions;
    for (int k = 0; k < (search.samples.size() > 20 || trial % 4 == 3 ? 2 : 10); ++k) positions.push_back(draw.vector(0.8));
    const PayloadRequest request{draw.vector(0.1), Limit::continuous};
    const ReachMap map = reach_map(search, positions, attitudes, 1, {});
    const PayloadMap masses = payload_map(search, positions, attitudes, request, 1, {});
    PostureWork work = std::move(make_posture_work(search, 1).front());
    for (std::size_t i = 0; i < positions.size(); ++i) {
      const PlainMap plain = plain_map(search, work, positions[i], attitudes, search.model->tool * request.centre);
      if (plain.on_edge) continue;
      CAPTURE(trial, i);
      REQUIRE(map.attitudes_reached[i] == plain.reached);
      CHECK(std::isnan(map.limit_margin[i]) == (plain.reached == 0));
      CHECK(std::isnan(masses.mass_greatest[i]) == (plain.reached == 0));
      if (plain.reached == 0) continue;
      ++reached;
      partly += plain.reached < static_cast<std::int32_t>(attitudes.size());
      CHECK(near(map.limit_margin[i], plain.limit_margin, 1e-7));
      CHECK(near(map.manipulability[i], plain.manipulability, 1e-6));
      CHECK(near(map.clearance[i], search.scene ? plain.clearance : unlimited, 1e-6));
      CHECK(near(masses.mass_greatest[i], plain.greatest, 1e-5));
      CHECK(near(masses.mass_least[i], plain.least, 1e-5));
      if (!search.samples_track) continue;
      CHECK(map.track_lower[i] <= plain.lowest + 1e-9);
      CHECK(map.track_upper[i] >= plain.highest - 1e-9);
    }
  }
  CHECK(reached > 40);
  CHECK(partly > 10);
}
