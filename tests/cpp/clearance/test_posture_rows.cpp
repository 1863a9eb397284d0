#include "armwright/clearance/posture_rows.hpp"

#include "armwright/kinematics/attitudes.hpp"
#include "catch_shim.hpp"
#include "posture_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

struct Plain {
  std::size_t question;
  std::vector<double> q;
  double margin;
  bool clear;
  double distance;
};

// One question after the other, one posture after the other.
void one_by_one(const PostureSearch& search, PostureWork& work, const Vec3& position, const std::vector<Rotation>& attitudes, std::uint32_t place,
                std::vector<HeldRow>& asked, std::vector<Plain>& found) {
  for (std::uint32_t a = 0; a < attitudes.size(); ++a) {
    any_held(search, {attitudes[a], position}, [&](const HeldArm& held) {
      if (is_beyond_reach(search, position, held) || is_wrist_beyond(search, {attitudes[a], position}, held)) return false;
      visit_within_limits(search, work, {attitudes[a], position}, held, [&](const Posture& posture) {
        const double distance = search.scene ? least_distance(*search.scene, posture.frames, *work.clearance, unlimited).distance : unlimited;
        found.push_back({asked.size(), {posture.q, posture.q + search.model->joint_count}, posture.limit_margin,
                         is_clear(search, work, posture, search.margin), distance});
        return false;
      });
      asked.push_back({place, a, nullptr});
      return false;
    });
  }
}

double apart(const Pose& a, const Pose& b) {
  return norm(a.position - b.position) + norm(a.rotation.x - b.rotation.x) + norm(a.rotation.z - b.rotation.z);
}

}  // namespace

TEST_CASE("postures of many questions at once are those of one after the other, in their order, as clear and as far from limits") {
  Draw draw{61};
  std::size_t postures = 0, clear_ones = 0;
  for (int trial = 0; trial < 48; ++trial) {
    const bool solids = trial % 5 != 4;
    const PostureSearch search = search_in(some_cell(draw, trial), solids, trial % 2 ? 0.02 : 0);
    const std::size_t n = search.model->joint_count, directions = trial % 7 == 0 ? 30 : 1 + static_cast<std::size_t>(trial) % 9;
    const auto attitudes = attitudes_along(spread_directions(directions), 1 + static_cast<std::size_t>(trial) % 3);
    PostureRows rows = make_posture_rows(search, attitudes, true);
    PostureWork work = std::move(make_posture_work(search, 1).front());
    const Model& model = *search.model;
    std::vector<Vec3> positions;
    for (int k = 0; k < (search.samples.size() > 20 ? 1 : 1 + trial % 5 * 5); ++k) positions.push_back(draw.vector(0.9));
    std::vector<HeldRow> asked;
    std::vector<Plain> plain;
    for (const Vec3& position : positions) one_by_one(search, work, position, attitudes, static_cast<std::uint32_t>(&position - positions.data()), asked, plain);
    std::size_t at = 0, from = 0;
    std::vector<double> best(positions.size(), -unlimited), expected = best;
    for (start_asking(rows); ask_next(search, positions, attitudes, rows); from += rows.asked.size()) {
      REQUIRE(from + rows.asked.size() <= asked.size());
      CHECK((rows.asked.size() == questions_at_once || from + rows.asked.size() == asked.size()));
      for (std::size_t k = 0; k < rows.asked.size(); ++k)
        CHECK((rows.asked[k].attitude == asked[from + k].attitude && rows.asked[k].position == asked[from + k].position));
      find_postures(search, positions, attitudes, work.solutions, rows);
      if (rows.count == 0) continue;
      std::vector<std::array<Pose, max_joints>> frames(rows.count);
      in_posture_packs<double>(model, rows, [&](const Pose* of_row, std::size_t row) { std::copy_n(of_row, n, frames[row].begin()); });
      const std::vector<double> margins(rows.count, search.margin);
      std::vector<std::uint8_t> clear(rows.count);
      clear_rows(search, work, rows, {rows.order.data(), rows.count}, margins, clear);
      std::vector<std::uint32_t> kept;
      for (std::size_t i = 0; i < rows.count; ++i, ++at) {
        CAPTURE(trial, at);
        const std::uint32_t row = rows.order[i];
        REQUIRE(at < plain.size());
        REQUIRE(from + rows.of[row] == plain[at].question);
        REQUIRE((rows.first[rows.of[row]] <= i && i < rows.first[rows.of[row] + 1]));
        std::array<Pose, max_joints> expected_frames;
        joint_frames(model, plain[at].q.data(), expected_frames.data());
        for (std::size_t j = 0; j < n; ++j) CHECK(apart(frames[row][j], expected_frames[j]) < 1e-7);
        CHECK(rows.limit_margin[row] == Approx(plain[at].margin).margin(1e-7));
        if (std::fabs(plain[at].distance - search.margin) > 1e-6) CHECK(clear[i] == plain[at].clear);
        if (clear[i]) kept.push_back(row);
        double& most = expected[asked[plain[at].question].position];
        if (plain[at].clear) most = std::max(most, plain[at].distance);
        clear_ones += plain[at].clear;
      }
      if (solids) clearest_of(search, work, kept, rows, best);
    }
    CHECK(at == plain.size());
    CHECK(from == asked.size());
    for (std::size_t p = 0; solids && p < positions.size(); ++p)
      if (expected[p] > -unlimited) CHECK(best[p] == Approx(expected[p]).margin(1e-6));
    postures += at;
  }
  CHECK(postures > 800);
  CHECK(clear_ones > 200);
  CHECK(clear_ones < postures);
}

TEST_CASE("no posture has its wrist beyond what is said of it, and a stretched arm's is on the edge") {
  Draw draw{71};
  int bounded = 0;
  for (int trial = 0; trial < 30; ++trial) {
    CellSpec cell = some_cell(draw, trial);
    const PostureSearch search = search_in(cell, false, 0);
    const Model& model = *search.model;
    if (!(search.wrist.reach < unlimited)) continue;
    ++bounded;
    double farthest = 0;
    for (int k = 0; k < 500; ++k) {
      std::vector<double> q(model.joint_count);
      for (std::size_t j = 0; j < q.size(); ++j) q[j] = model.step[j].kind == JointKind::revolute ? draw.uniform(-3.2, 3.2) : draw.uniform(0, 1);
      std::array<Pose, max_joints> frames;
      joint_frames(model, q.data(), frames.data());
      const Pose target = frames[model.joint_count - 1] * model.tool;
      const HeldArm held = hold(*search.inverse, {q.data(), search.inverse->redundant.size()});
      CHECK_FALSE(is_wrist_beyond(search, target, held));
      PostureSearch shorter = search;
      shorter.wrist.reach *= 0.97;
      farthest += is_wrist_beyond(shorter, target, held);
    }
    if (trial % 4 == 0) CHECK(farthest > 0);  // elbow and shoulder of positioner() bend in one plane
  }
  CHECK(bounded > 10);
}
