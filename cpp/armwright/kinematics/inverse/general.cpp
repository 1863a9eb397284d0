#include "armwright/kinematics/inverse/general.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "armwright/kinematics/inverse/general/loop.hpp"
#include "armwright/kinematics/inverse/general/resultant.hpp"
#include "armwright/kinematics/inverse/general/ring_answers.hpp"
#include "armwright/kinematics/inverse/polish.hpp"

namespace armwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double worth_polishing = 0.5;  // closure error, unit lengths: beyond it a candidate is a false one
constexpr int most_ways = 4;             // per pose
constexpr double moved_too_far = 1e-3;   // rad: a polished answer this far from its root is not the root's

std::size_t tensor_index(const Labelling& way) { return (way.shift == 0 ? 0U : 1U) + (way.reversed ? 2U : 0U); }

struct Search {
  const GeneralSetup& setup;
  const Pose& target;
  const Labelling& way;
  Loop labelled;
  RightSide right;
  Sigma sigma;
  Solutions& out;
};

Pose in_first_frame(const SixChain& chain, const Pose& target) { return inverse(chain.base) * target; }

// Answers from one candidate angle. True if at least one answer belongs to it.
bool take_root(Search& s, double root) {
  const NullAnswers pairs = null_answers(s.sigma, std::cos(root), std::sin(root));
  bool explained = false;
  for (int k = 0; k < pairs.count; ++k) {
    const PairAngles& pair = pairs.answer[static_cast<std::size_t>(k)];
    std::array<double, 6> angle{0, 0, root, pair.d + s.setup.offsets.d, pair.e + s.setup.offsets.e, 0};
    const double missed = complete_ring(s.labelled, s.right, angle);
    if (!(missed < worth_polishing)) continue;
    Solution answer;
    for (int role = 0; role < 6; ++role) {
      const auto joint = static_cast<std::size_t>(s.way.joint(role));
      answer.q[joint] = wrapped(s.way.sign() * angle[static_cast<std::size_t>(role)] - s.setup.chain.step[joint].zero);
    }
    const auto searched = static_cast<std::size_t>(s.way.joint(2));
    const double before = answer.q[searched];
    if (!polish(s.setup.chain, s.target, answer.q.data())) continue;
    add_distinct(s.out, answer);
    if (std::fabs(wrapped(answer.q[searched] - before)) < moved_too_far) explained = true;
  }
  return explained;
}

TrigSamples sample(const Sigma& sigma) {
  TrigSamples samples;
  for (std::size_t k = 0; k < trig_nodes; ++k) {
    const double angle = 2 * pi * static_cast<double>(k) / static_cast<double>(trig_nodes);
    samples[k] = resultant(sigma, std::cos(angle), std::sin(angle));
  }
  return samples;
}

bool search_ring(const GeneralSetup& setup, const Labelling& way, const Loop& loop, const Pose& target, Solutions& out) {
  Search s{setup, target, way, relabelled(loop, way), {}, {}, out};
  s.right = right_side(s.labelled);
  s.sigma = way.left_is_constant() ? eliminate(setup.left[tensor_index(way)], s.right)
                                   : eliminate(left_tensor(s.labelled, setup.offsets), s.right);
  const TrigRoots roots = setup.finder.roots(sample(s.sigma));
  bool sure = !roots.drowned;
  for (int k = 0; k < roots.count; ++k) {
    const TrigRoot& root = roots.root[static_cast<std::size_t>(k)];
    const bool explained = take_root(s, root.angle);
    if (!explained || root.kind == RootKind::touching) sure = false;
  }
  return sure && out.count % 2 == 0;
}

Loop loop_for(const GeneralSetup& setup, const Pose& target) {
  return make_loop(setup.links, setup.end, in_first_frame(setup.chain, target), setup.size);
}

// Moves the frames' origins along their own axes so that the links between them are as short as can be.
void shorten_links(const SixChain& chain, GeneralSetup& setup) {
  Eigen::Matrix<double, 15, 6> A = Eigen::Matrix<double, 15, 6>::Zero();
  Eigen::Matrix<double, 15, 1> b;
  for (int i = 1; i < 6; ++i) {
    const JointStep& step = chain.step[static_cast<std::size_t>(i)];
    const Vec3& o = step.offset;
    // offset + Rx(alpha) z slide_i - z slide_(i-1)
    A(3 * (i - 1) + 1, i) = -step.sin_alpha;
    A(3 * (i - 1) + 2, i) = step.cos_alpha;
    A(3 * (i - 1) + 2, i - 1) -= 1;
    b.segment<3>(3 * (i - 1)) << -o.x, -o.y, -o.z;
  }
  const Eigen::Matrix<double, 6, 1> slide = A.completeOrthogonalDecomposition().solve(b);
  double length = 0;
  std::array<Pose, 6> links;
  for (int i = 0; i < 6; ++i) {
    const auto k = static_cast<std::size_t>(i);
    const Pose before{no_rotation, {0, 0, i > 0 ? -slide(i - 1) : 0}};
    const Pose after{no_rotation, {0, 0, slide(i)}};
    links[k] = before * link_of(chain.step[k], 1) * after;
    if (i > 0) length += norm(links[k].position);
  }
  setup.size = length > 0 ? 0.5 * length : 1;
  for (auto& link : links) link.position = (1 / setup.size) * link.position;
  setup.links = links;
  setup.end = Pose{no_rotation, {0, 0, -slide(5)}} * chain.end;
}

// Equal steps of an irrational rotation: postures spread over all, the same every time.
std::array<double, 6> trial_posture(int index) {
  std::array<double, 6> q;
  constexpr double step[6] = {0.41421356237, 0.73205080757, 0.23606797750, 0.64575131106, 0.31662479036, 0.60555127546};
  for (std::size_t i = 0; i < 6; ++i) q[i] = wrapped(2 * pi * step[i] * (index + 1) + 0.1 * static_cast<double>(i));
  return q;
}

void rank_ways(GeneralSetup& setup, int trials) {
  struct Record {
    Labelling way;
    double missed = 0, doubted = 0;
  };
  std::array<Record, GeneralSetup::way_count> record;
  for (std::size_t w = 0; w < record.size(); ++w) record[w].way = {static_cast<int>(w % 6), w >= 6};
  for (int t = 0; t < trials; ++t) {
    Solution own;
    own.q = trial_posture(t);
    const Pose target = chain_end(setup.chain, own.q.data());
    for (Record& r : record) {
      Solutions found;
      if (!solve_one_way(setup, r.way, target, found)) r.doubted += 1.0 / trials;
      bool hit = false;
      for (int k = 0; k < found.count; ++k) hit = hit || same(found.solution[static_cast<std::size_t>(k)], own);
      if (!hit) r.missed += 1.0 / trials;
    }
  }
  std::stable_sort(record.begin(), record.end(), [](const Record& x, const Record& y) {
    const auto cost = [](const Record& r) { return 10 * r.missed + r.doubted + (r.way.left_is_constant() ? 0 : 0.02); };
    return cost(x) < cost(y);
  });
  for (std::size_t w = 0; w < record.size(); ++w) {
    setup.way[w] = record[w].way;
    setup.missed[w] = record[w].missed;
    setup.doubted[w] = record[w].doubted;
  }
}

}  // namespace

GeneralSetup prepare_general(const SixChain& chain) {
  GeneralSetup setup;
  setup.chain = chain;
  shorten_links(chain, setup);
  const Loop loop = loop_for(setup, identity_pose);  // the target is not read where it matters
  for (const int shift : {0, 5}) {
    for (const bool backward : {false, true}) {
      const Labelling way{shift, backward};
      setup.left[tensor_index(way)] = left_tensor(relabelled(loop, way), setup.offsets);
    }
  }
  rank_ways(setup, 48);
  return setup;
}

bool solve_one_way(const GeneralSetup& setup, const Labelling& way, const Pose& target, Solutions& out) {
  return search_ring(setup, way, loop_for(setup, target), target, out);
}

void solve_general(const GeneralSetup& setup, const Pose& target, Solutions& out) {
  out.count = 0;
  const Loop loop = loop_for(setup, target);
  unsigned searched = 0;  // joints whose angle was the unknown: the same again would only repeat the doubt
  int taken = 0;
  for (const Labelling& way : setup.way) {
    const unsigned bit = 1U << way.joint(2);
    if (searched & bit) continue;
    searched |= bit;
    if (search_ring(setup, way, loop, target, out) || ++taken == most_ways) break;
  }
}

}  // namespace armwright
