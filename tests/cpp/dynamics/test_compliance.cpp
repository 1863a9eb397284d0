#include "armwright/dynamics/compliance.hpp"

#include "catch_shim.hpp"
#include "elastic_cases.hpp"

using namespace armwright;
using namespace armwright::testing;

namespace {

constexpr double L = 0.9;
const Beam tube{L, 2e8, 4000, 6000, 3000, never, never};

struct Case {
  CellSpec cell;
  ElasticSpec spec;
  std::vector<double> q;
  std::vector<double> push = std::vector<double>(6, 0.0);

  std::vector<double> by_cause() const {
    const Model model = compile(cell);
    const ElasticChain chain = elastic_chain(cell, model, spec);
    std::vector<double> out(6 * spec.causes.size());
    tool_sag(model, chain, model.load, push, q, out);
    return out;
  }
  std::vector<double> sag() const {
    const auto parts = by_cause();
    std::vector<double> sum(6, 0.0);
    for (std::size_t i = 0; i < parts.size(); ++i) sum[i % 6] += parts[i];
    return sum;
  }
  std::vector<double> compliance() const {
    const Model model = compile(cell);
    const ElasticChain chain = elastic_chain(cell, model, spec);
    std::vector<double> parts(36 * spec.causes.size()), sum(36, 0.0);
    tool_compliance(model, chain, q, parts);
    for (std::size_t i = 0; i < parts.size(); ++i) sum[i % 36] += parts[i];
    return sum;
  }
};

Case bent(double mass, double tip, std::size_t pieces) {
  Case c;
  c.cell = cantilever(L, mass, tip);
  c.spec.beams = {beam_of(0, {0, 0, 0}, {L, 0, 0}, tube, mass / L)};
  c.spec.causes = {"link 1"};
  c.spec.pieces = pieces;
  c.q = {0.4};
  return c;
}

}  // namespace

TEST_CASE("cantilever with its own weight and an end mass: w L⁴/8EI + F L³/3EI, whatever it is cut into (textbook)") {
  for (const std::size_t pieces : {1, 2, 5}) {
    const double mass = 7, tip = 12, w = mass * g0 / L, F = tip * g0, EI = tube.bending_y;
    const auto sag = bent(mass, tip, pieces).sag();
    CHECK(sag[2] == Approx(-(w * L * L * L * L / (8 * EI) + F * L * L * L / (3 * EI))));
    const double slope = w * L * L * L / (6 * EI) + F * L * L / (2 * EI);
    // It bows towards -z: turned about the axis square to it, which stands 0.4 rad round.
    CHECK(sag[3] == Approx(-std::sin(0.4) * slope));
    CHECK(sag[4] == Approx(std::cos(0.4) * slope));
    for (std::size_t i : {0, 1, 5}) CHECK(sag[i] == Approx(0).margin(1e-15));
  }
}

TEST_CASE("weight that is told in one point of a tube, and what is told beyond its ends") {
  // F a² (3L - a)/6EI at the end for a force at a; the link's own mass is known by its centre of gravity only.
  const double a = 0.3 * L, m = 5, EI = tube.bending_y;
  for (const std::size_t pieces : {1, 3}) {
    Case c = bent(0, 0, pieces);
    c.cell.arm.links[0].inertia = {m, {a, 0, 0}, 0, 0, 0, 0, 0, 0};
    CHECK(c.sag()[2] == Approx(-m * g0 * a * a * (3 * L - a) / (6 * EI)));
    c.cell.arm.links[0].inertia.centre = {-0.1, 0, 0};  // a motor behind the joint: bends nothing
    CHECK(c.sag()[2] == Approx(0).margin(1e-15));
    c.cell.arm.links[0].inertia.centre = {L + 0.2, 0, 0};  // beyond the end: a force and a moment there
    CHECK(c.sag()[2] == Approx(-m * g0 * (L * L * L / 3 + 0.2 * L * L / 2) / EI));
  }
}

TEST_CASE("a link heavier than its tube: what is left of it counts at its own centre of gravity") {
  const double mass = 7, motor = 4, a = 0.6 * L, EI = tube.bending_y;
  for (const std::size_t pieces : {1, 2}) {
    Case c = bent(mass, 0, pieces);
    Inertia& link = c.cell.arm.links[0].inertia;
    link = link + Inertia{motor, {a, 0.03, 0}, 0.01, 0.01, 0.01, 0, 0, 0};
    CHECK(c.sag()[2] == Approx(-mass * g0 * L * L * L / (8 * EI) - motor * g0 * a * a * (3 * L - a) / (6 * EI)));
    // Beside the line by 0.03 it twists what is before it.
    CHECK(c.sag()[3] * std::cos(0.4) + c.sag()[4] * std::sin(0.4) == Approx(-motor * g0 * 0.03 * a / tube.torsion));
  }
}

TEST_CASE("a tube that weighs more than its link counts as the link, with its centre of gravity") {
  Case heavy = bent(6, 0, 2), even = heavy;
  heavy.spec.beams[0].mass *= 3;
  CHECK(heavy.sag()[2] == Approx(even.sag()[2]));
  heavy.cell.arm.links[0].inertia.centre.y = 0.05;  // off the line: twists it by m g y L/2GJ
  CHECK(heavy.sag()[3] * std::cos(0.4) + heavy.sag()[4] * std::sin(0.4) == Approx(-6 * g0 * 0.05 * (L / 2) / tube.torsion));
}

TEST_CASE("L in one plane, an upright with a level arm (textbook): F L³/3EI + F L² h/EI, and F L h²/2EI over") {
  Case c = bent(0, 8, 2);
  const double h = 1.1, EI = 5000, F = 8 * g0;
  c.cell.arm.joints[0].placement = at({0, 0, h});
  const Beam post{h, never, EI, EI, 2000, never, never};
  c.spec.beams.push_back(beam_of(-1, {0, 0, 0}, {0, 0, h}, post, 0, 1));
  c.spec.causes.push_back("base");
  c.q = {0};
  const auto parts = c.by_cause();
  CHECK(parts[2] == Approx(-F * L * L * L / (3 * tube.bending_y)));
  CHECK(parts[8] == Approx(-F * L * L * h / EI));
  CHECK(parts[6] == Approx(F * L * h * h / (2 * EI)));  // leans the way the load is
  c.q = {1.0};  // the same seen from another side
  const auto turned = c.by_cause();
  CHECK(turned[8] == Approx(parts[8]));
  CHECK(turned[6] == Approx(std::cos(1.0) * parts[6]));
  CHECK(turned[7] == Approx(std::sin(1.0) * parts[6]));
}

TEST_CASE("L lying flat, which bends and twists (textbook): F a³/3EI + F b³/3EI + F b² a/GJ") {
  Case c = bent(0, 8, 1);
  const double b = 0.5, F = 8 * g0;
  const Beam fore{b, 1e8, 1500, 1500, 800, never, never};
  c.cell.arm.joints.push_back(joint("axis 2", at({L, 0, 0}), {0, 0, 1}));
  c.cell.arm.links.push_back(c.cell.arm.links[0]);
  c.cell.arm.flange = at({b, 0, 0});
  c.spec.beams.push_back(beam_of(1, {0, 0, 0}, {b, 0, 0}, fore, 0, 1));
  c.spec.causes.push_back("link 2");
  c.q = {0.4, quarter_turn};
  const double bend = L * L * L / (3 * tube.bending_y), twist = b * b * L / tube.torsion, out = b * b * b / (3 * fore.bending_y);
  CHECK(c.by_cause()[2] == Approx(-F * (bend + twist)));
  CHECK(c.by_cause()[8] == Approx(-F * out));
  c.q = {0.4, 0};  // stretched out: force and moment F b at the elbow
  CHECK(c.by_cause()[2] == Approx(-F * (bend + 2 * b * L * L / (2 * tube.bending_y) + b * b * L / tube.bending_y)));
}

TEST_CASE("a section's height is where `up` points") {
  Case c = bent(0, 10, 1);
  const double soft = c.sag()[2];
  c.spec.beams[0].up = {0, 1, 0};  // lying: weight now bends it about z, which is stiffer by 6000/4000
  CHECK(c.sag()[2] == Approx(soft * tube.bending_y / tube.bending_z));
}

TEST_CASE("bearing tilt, radial and axial give, at its place on the axis") {
  Case c = bent(0, 10, 1);
  c.spec.beams.clear();
  RoundSpring bearing;
  bearing.link = 0, bearing.point = {0, 0, -0.1}, bearing.axis = {0, 0, 1};
  bearing.along = 3e-8, bearing.across = 2e-8, bearing.tilt = 4e-6;
  c.spec.springs = {bearing};
  const double F = 10 * g0;
  const auto sag = c.sag();
  CHECK(sag[2] == Approx(-F * (3e-8 + L * L * 4e-6)));
  CHECK(sag[0] == Approx(std::cos(0.4) * F * L * 4e-6 * 0.1));  // the tool stands 0.1 above the bearing and so goes outwards
  c.push = {0, 0, 0, 0, 0, 5};  // a moment about its own axis: a bearing does not hold that
  CHECK(c.sag()[5] == Approx(0).margin(1e-18));
}

TEST_CASE("stages in series, referred to the axis (textbook): 1/k = sum of 1/(k N²)") {
  CHECK(referred_compliance(2e4, 1) == Approx(1 / 2e4));
  CHECK(referred_compliance(50, 100) == Approx(1 / (50.0 * 100 * 100)));
  CHECK(referred_compliance(50, -100) == Approx(1 / (50.0 * 100 * 100)));
  Case c = bent(0, 10, 1);
  c.spec.beams.clear();
  c.cell.arm.joints[0].axis = {0, 1, 0};
  c.spec.stages = {{0, referred_compliance(2e4, 1), 0}, {0, referred_compliance(50, 20), 1}};
  c.spec.causes = {"gear", "belt"};
  c.q = {0};
  const auto parts = c.by_cause();
  const double torque = 10 * g0 * L;
  CHECK(parts[2] == Approx(-torque / 2e4 * L));
  CHECK(parts[8] == Approx(-torque / (50.0 * 400) * L));
  CHECK(parts[4] == Approx(torque / 2e4));
}

TEST_CASE("an axis that slides gives way by force over N/m, and no moment turns it") {
  Case c = bent(0, 10, 1);
  c.spec.beams.clear();
  c.cell.arm.joints[0].kind = JointKind::prismatic;  // upright
  c.spec.stages = {{0, referred_compliance(3, 400), 0}};  // a screw of 400 rad/m: 3 N m/rad is 480 kN/m
  CHECK(c.sag()[2] == Approx(-10 * g0 / (3.0 * 400 * 400)));
  c.push = {0, 0, 0, 1, 2, 3};
  CHECK(c.sag()[2] == Approx(-10 * g0 / (3.0 * 400 * 400)));
}

TEST_CASE("belts through joints: the sag of a coupled arm goes with C and its transpose") {
  Draw draw{31};
  for (int k = 0; k < 5; ++k) {
    Case c;
    c.cell = random_cell(draw, 4);
    c.cell.mount = identity_pose;
    c.cell.load.reset();
    c.cell.arm.coupling = {1, 0, 0, 0, 0, 1, 0, 0, 0, -0.4, 1, 0, 0, 0.3, 1, 1};
    const std::array<double, 4> give{1e-5, 3e-5, 2e-5, 7e-5};
    for (std::size_t i = 0; i < 4; ++i) c.spec.stages.push_back({i, give[i], 0});
    c.spec.causes = {"stages"};
    for (std::size_t i = 0; i < 4; ++i) c.q.push_back(draw.uniform(-1, 1));
    // By hand: joint torques of weight by differences of potential energy, to the axes, windup, back to the joints, to the tool.
    std::array<double, 4> torque{}, turn{};
    constexpr double h = 1e-6;
    const auto shifted = [&](std::size_t j, double by) { auto q = c.q; q[j] += by; return q; };
    for (std::size_t j = 0; j < 4; ++j)
      torque[j] = -(potential_energy(c.cell, shifted(j, h).data(), true) - potential_energy(c.cell, shifted(j, -h).data(), true)) / (2 * h);
    const auto& C = c.cell.arm.coupling;
    for (std::size_t a = 0; a < 4; ++a) {
      double at_axis = 0;
      for (std::size_t j = 0; j < 4; ++j) at_axis += C[j * 4 + a] * torque[j];
      for (std::size_t j = 0; j < 4; ++j) turn[j] += C[j * 4 + a] * give[a] * at_axis;
    }
    Vec3 wanted{0, 0, 0};
    for (std::size_t j = 0; j < 4; ++j)
      wanted = wanted + (turn[j] / (2 * h)) * (slow_frames(c.cell, shifted(j, h).data()).tool.position - slow_frames(c.cell, shifted(j, -h).data()).tool.position);
    const auto sag = c.sag();
    const double size = norm(wanted);
    CHECK(sag[0] == Approx(wanted.x).margin(1e-6 * size));
    CHECK(sag[1] == Approx(wanted.y).margin(1e-6 * size));
    CHECK(sag[2] == Approx(wanted.z).margin(1e-6 * size));
  }
}

TEST_CASE("a counterbalance that carries the arm leaves the stage nothing to sag by, but bends the link") {
  Case c = bent(0, 10, 1);
  c.cell.arm.joints[0].axis = {0, 1, 0};
  c.q = {0};
  c.spec.stages = {{0, 1e-5, 1}};
  c.spec.causes.push_back("gear");
  SpringSpec spring;  // straight up from a fifth along the link: pulls with five times the weight
  spring.link_a = -1, spring.link_b = 0;
  spring.point_a = {L / 5, 0, 2}, spring.point_b = {L / 5, 0, 0};
  spring.length = 2, spring.pull = 5 * 10 * g0;
  c.cell.arm.springs = {spring};
  const auto parts = c.by_cause();
  CHECK(parts[8] == Approx(0).margin(1e-14));
  const double a = L / 5, F = 10 * g0, EI = tube.bending_y;
  CHECK(parts[2] == Approx(-F * L * L * L / (3 * EI) + 5 * F * a * a * (3 * L - a) / (6 * EI)));
}

TEST_CASE("any arm: the sag by a push is the compliance times the push, and the compliance is symmetric (Maxwell)") {
  Draw draw{77};
  for (int k = 0; k < 6; ++k) {
    Case c;
    c.cell = random_cell(draw, 5, k % 2 == 0);
    if (k % 3 == 0) c.cell.track = random_track(draw);
    const std::size_t n = c.cell.arm.joints.size() + (c.cell.track ? 1 : 0);
    for (std::size_t i = 0; i < n; ++i) c.q.push_back(draw.uniform(-0.5, 0.8)), c.spec.stages.push_back({i, draw.uniform(0, 1e-4), 0});
    for (int link = -1; link < 5; ++link) {
      RoundSpring spring{link, draw.vector(0.1), draw.direction(), draw.uniform(0, 1e-7), draw.uniform(0, 1e-7), draw.uniform(0, 1e-5), draw.uniform(0, 1e-5), 1};
      c.spec.springs.push_back(spring);
      if (link != 2) c.spec.beams.push_back(beam_of(link, draw.vector(0.1), draw.vector(0.1) + Vec3{0.3, 0.2, 0}, {1, 2e7, 3000, 5000, 2000, 4e5, 3e5}, 2, 2));
    }
    c.spec.causes = {"stages", "bearings", "links"};
    const auto weight = c.sag(), compliance = c.compliance();
    for (std::size_t j = 0; j < 6; ++j) {
      c.push.assign(6, 0.0);
      c.push[j] = 100;
      const auto pushed = c.sag();
      for (std::size_t i = 0; i < 6; ++i) {
        CHECK(pushed[i] - weight[i] == Approx(100 * compliance[i * 6 + j]).margin(1e-10));
        CHECK(compliance[i * 6 + j] == Approx(compliance[j * 6 + i]).margin(1e-16));
      }
    }
  }
}
