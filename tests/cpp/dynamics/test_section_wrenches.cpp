#include "armwright/dynamics/section_wrenches.hpp"

#include "armwright/dynamics/inverse_dynamics.hpp"
#include "catch_shim.hpp"
#include "elastic_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

const Beam some_beam{1, 1e7, 1000, 1000, 1000, never, never};

std::vector<double> wrenches(const CellSpec& cell, const ElasticSpec& spec, const std::vector<double>& q, const std::vector<double>& speed,
                             const std::vector<double>& acceleration) {
  const Model model = compile(cell);
  std::vector<TubeCut> ends;
  for (std::size_t span = 0; span < spec.beams.size(); ++span) ends.push_back({span, 0}), ends.push_back({span, 1});
  std::vector<double> out(q.size() / model.joint_count * ends.size() * 6);
  section_wrenches(model, elastic_chain(cell, model, spec), model.load, ends, q, speed, acceleration, out);
  return out;
}

}  // namespace

TEST_CASE("cantilever: shear and moment at both ends by hand, in the tube's own directions") {
  const double L = 0.9, m = 7, tip = 12;
  CellSpec cell = cantilever(L, m, tip);
  ElasticSpec spec;
  spec.beams = {beam_of(0, {0, 0, 0}, {L, 0, 0}, some_beam, m / L)};
  spec.causes = {"link 1"};
  const auto still = wrenches(cell, spec, {0.4}, {0}, {0});
  const double wanted[12] = {0, 0, (m + tip) * g0, 0, -(m * L / 2 + tip * L) * g0, 0, 0, 0, tip * g0, 0, 0, 0};
  for (std::size_t i = 0; i < 12; ++i) CHECK(still[i] == Approx(wanted[i]).margin(1e-12));
  // Turning about the upright axis: pulled by w² times the first moment, bent sideways by the acceleration.
  const auto moving = wrenches(cell, spec, {0.4}, {3}, {5});
  CHECK(moving[0] == Approx(-9 * (m * L / 2 + tip * L)));
  CHECK(moving[1] == Approx(5 * (m * L / 2 + tip * L)));
  CHECK(moving[5] == Approx(5 * (m * L * L / 3 + tip * L * L)));
  CHECK(moving[6] == Approx(-9 * tip * L));
  spec.beams[0].up = {0, 1, 0};  // turned a quarter: what was along its height is across it
  const auto lying = wrenches(cell, spec, {0.4}, {0}, {0});
  CHECK(std::fabs(lying[1]) == Approx((m + tip) * g0));
  CHECK(lying[2] == Approx(0).margin(1e-12));
}

TEST_CASE("any arm in motion: a cut through a tube that carries its whole link bears the joint's torque about its axis") {
  Draw draw{41};
  for (int k = 0; k < 8; ++k) {
    CellSpec cell = random_cell(draw, 5, k % 2 == 1);
    if (k % 3 == 0) cell.track = random_track(draw);
    if (k % 4 == 0) {
      SpringSpec spring;
      spring.link_a = k == 0 ? -1 : 1, spring.link_b = 3, spring.point_a = draw.vector(0.3), spring.point_b = draw.vector(0.3);
      spring.length = 0.2, spring.pull = 300, spring.rate = 900;
      cell.arm.springs = {spring};
    }
    const Model model = compile(cell);
    const std::size_t n = model.joint_count, first = n - 5;
    ElasticSpec spec;
    spec.causes = {"tubes"};
    for (int link = 0; link < 5; ++link)  // starting far behind everything of its link
      spec.beams.push_back(beam_of(link, {-9, draw.uniform(-1, 1), draw.uniform(-1, 1)}, {9, draw.uniform(-1, 1), draw.uniform(-1, 1)}, some_beam));
    std::vector<double> q(n), speed(n), change(n), torque(n);
    for (std::size_t i = 0; i < n; ++i) q[i] = draw.uniform(-1, 1), speed[i] = draw.uniform(-1, 1), change[i] = draw.uniform(-2, 2);
    inverse_dynamics(model, model.load, q, speed, change, torque);
    const auto out = wrenches(cell, spec, q, speed, change);
    const ElasticChain chain = elastic_chain(cell, model, spec);
    const SlowFrames frames = slow_frames(cell, q.data());
    for (std::size_t link = 0; link < 5; ++link) {
      const ElasticSpan& span = chain.spans[link];
      const Pose cut = frames.link[first + link] * (inverse(model.link_frame[first + link]) * span.start);
      const double* w = &out[link * 12];
      const Vec3 force = cut.rotation * Vec3{w[0], w[1], w[2]}, moment = cut.rotation * Vec3{w[3], w[4], w[5]};
      const Vec3 axis = frames.axis[first + link], joint = frames.joint[first + link].position;
      const bool turns = frames.kind[first + link] == JointKind::revolute;
      const double found = turns ? dot(axis, moment + cross(cut.position - joint, force)) : dot(axis, force);
      CHECK(found == Approx(torque[first + link]).margin(1e-8));
    }
  }
}

TEST_CASE("a motor at the elbow loads the far section, one at the shoulder loads neither") {
  CellSpec cell = cantilever(0.9, 0, 0);
  ElasticSpec spec;
  spec.beams = {beam_of(0, {0, 0, 0}, {0.9, 0, 0}, some_beam)};
  spec.causes = {"link 1"};
  cell.arm.links[0].inertia = {4, {0.95, 0, 0}, 0, 0, 0, 0, 0, 0};
  CHECK(wrenches(cell, spec, {0}, {0}, {0})[8] == Approx(4 * g0));
  CHECK(wrenches(cell, spec, {0}, {0}, {0})[10] == Approx(-4 * g0 * 0.05));
  cell.arm.links[0].inertia.centre.x = -0.05;
  for (const double value : wrenches(cell, spec, {0}, {0}, {0})) CHECK(value == 0);
}

TEST_CASE("between the ends: a boom held by its joint and drawn up by a spring amid it bends most where the spring takes hold") {
  // A cantilever's own weight and end load beyond the cut, and beside them the spring's pull while it is beyond.
  const double L = 1, m = 6, tip = 5, a = 0.6;
  CellSpec cell = cantilever(L, m, tip);
  SpringSpec spring;
  spring.link_a = -1, spring.link_b = 0, spring.point_a = {a, 0, 0.5}, spring.point_b = {a, 0, 0};
  spring.length = 0.5, spring.pull = 150, spring.rate = 0;
  cell.arm.springs = {spring};
  const Model model = compile(cell);
  for (const std::size_t pieces : {1, 2, 16}) {
    ElasticSpec spec;
    spec.beams = {beam_of(0, {0, 0, 0}, {L, 0, 0}, some_beam, m / L)};
    spec.causes = {"link 1"};
    spec.pieces = pieces;
    const ElasticChain chain = elastic_chain(cell, model, spec);
    const std::vector<TubeCut> cuts{{0, 0}, {0, 0.25}, {0, 0.5}, {0, a - 1e-9}, {0, a + 1e-9}, {0, 0.75}, {0, 1}};
    std::vector<double> out(cuts.size() * 6);
    const std::vector<double> zero{0};
    section_wrenches(model, chain, model.load, cuts, zero, zero, zero, out);
    for (std::size_t k = 0; k < cuts.size(); ++k) {
      const double x = cuts[k].station, beyond = (L - x) * m / L, pull = x < a ? 150 : 0;
      // Own weight counts in four points a piece: beyond a cut amid one, no more than a part of that piece's.
      const bool amid = x > 0 && x < 1;
      const double piece = amid ? m * g0 * L / static_cast<double>(pieces) : 0;
      CHECK(out[6 * k + 2] == Approx((beyond + tip) * g0 - pull).margin(0.2 * piece + 1e-9));
      CHECK(-out[6 * k + 4] == Approx(beyond * g0 * (L - x) / 2 + tip * g0 * (L - x) - pull * std::max(a - x, 0.0)).margin(0.02 * piece + 1e-9));
    }
    CHECK(std::fabs(out[6 * 3 + 4]) > 2 * std::fabs(out[4]));
  }
}
