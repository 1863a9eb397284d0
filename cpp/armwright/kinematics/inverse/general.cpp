#include "armwright/kinematics/inverse/general.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "armwright/kinematics/inverse/general/degenerate.hpp"
#include "armwright/kinematics/inverse/general/loop.hpp"
#include "armwright/kinematics/inverse/general/resultant.hpp"
#include "armwright/kinematics/inverse/general/ring_answers.hpp"
#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/spatial/turns.hpp"

namespace armwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double worth_polishing = 0.5;  // closure error, unit lengths: beyond it a candidate is a false one
constexpr double lost_gap = 1e-9;        // of null_answers(): a whole curve may answer
constexpr double rounding = 2e-15;       // of the determinant's usual size: what rounding leaves where it vanishes
constexpr std::size_t trial_count = 48;
constexpr double moved_too_far = 1e-3;   // rad: a polished answer this far from its root is not the root's

std::size_t tensor_index(const Labelling& way) { return (way.shift == 0 ? 0U : 1U) + (way.reversed ? 2U : 0U); }

// What is to be thought of the answers of one way.
enum class Outcome {
  sure,     // only clear roots, each with its answer
  fair,     // some roots touch: answers near a singular posture
  doubted,  // a root without an answer
  lost      // a curve of answers, or a determinant drowned in rounding
};

struct Search {
  const GeneralSetup& setup;
  const Pose& target;
  const Labelling& way;
  Loop labelled;
  RightSide right;
  Sigma sigma;
  Solutions& out;
  bool degenerate = false;  ///< an angle was not determined
};

Pose in_first_frame(const SixChain& chain, const Pose& target) { return inverse(chain.base) * target; }

// Answers from one candidate angle. True if at least one answer belongs to it.
bool take_root(Search& s, double root) {
  const NullAnswers pairs = null_answers(s.sigma, std::cos(root), std::sin(root));
  bool explained = false;
  if (pairs.gap < lost_gap) s.degenerate = true;
  for (int k = 0; k < pairs.count; ++k) {
    const PairAngles& pair = pairs.answer[static_cast<std::size_t>(k)];
    std::array<double, 6> angle{0, 0, root, pair.d + s.setup.offsets.d, pair.e + s.setup.offsets.e, 0};
    bool lost = false;
    const double missed = complete_ring(s.labelled, s.right, angle, lost);
    s.degenerate = s.degenerate || (lost && missed < worth_polishing);
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

Outcome search_ring(const GeneralSetup& setup, std::size_t w, const Loop& loop, const Pose& target, Solutions& out) {
  const Labelling& way = setup.way[w];
  Search s{setup, target, way, relabelled(loop, way), {}, {}, out, false};
  s.right = right_side(s.labelled);
  s.sigma = way.left_is_constant() ? eliminate(setup.left[tensor_index(way)], s.right)
                                   : eliminate(left_tensor(s.labelled, setup.offsets), s.right);
  const TrigSamples samples = sample(s.sigma);
  const TrigRoots roots = setup.finder.roots(samples, rounding * setup.usual_size[w]);
  bool all_explained = true, touching = false;
  for (int k = 0; k < roots.count; ++k) {
    const TrigRoot& root = roots.root[static_cast<std::size_t>(k)];
    const bool explained = take_root(s, root.angle);
    if (root.kind == RootKind::touching) touching = true;
    if (!explained && root.kind == RootKind::crossing) all_explained = false;
  }
  if (roots.drowned || s.degenerate) return Outcome::lost;
  if (!all_explained || out.count % 2 != 0) return Outcome::doubted;
  return touching ? Outcome::fair : Outcome::sure;
}

Loop loop_for(const GeneralSetup& setup, const Pose& target) {
  return make_loop(setup.links, setup.end, in_first_frame(setup.chain, target), setup.size);
}

double determinant_size(const GeneralSetup& setup, const Labelling& way, const Pose& target) {
  const Loop labelled = relabelled(loop_for(setup, target), way);
  double largest = 0;
  for (double x : sample(eliminate(left_tensor(labelled, setup.offsets), right_side(labelled)))) largest = std::fmax(largest, std::fabs(x));
  return largest;
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

// Tries every way on the arm's own postures: the size of its determinant, how often it misses the posture, how often
// it leaves doubt. Best first.
void rank_ways(GeneralSetup& setup) {
  struct Record {
    Labelling way;
    double usual_size = 0, missed = 0, doubted = 0;
    double cost() const { return 10 * missed + doubted + (way.left_is_constant() ? 0 : 0.02); }
  };
  std::array<Record, GeneralSetup::way_count> record;
  for (std::size_t w = 0; w < record.size(); ++w) setup.way[w] = record[w].way = {static_cast<int>(w % 6), w >= 6};
  std::array<Solution, trial_count> own;
  std::array<Pose, trial_count> target;
  for (std::size_t t = 0; t < trial_count; ++t) {
    own[t].q = trial_posture(static_cast<int>(t));
    target[t] = chain_end(setup.chain, own[t].q.data());
  }
  for (std::size_t w = 0; w < record.size(); ++w) {
    Record& r = record[w];
    std::array<double, trial_count> size;
    for (std::size_t t = 0; t < trial_count; ++t) size[t] = determinant_size(setup, r.way, target[t]);
    std::nth_element(size.begin(), size.begin() + trial_count / 2, size.end());
    setup.usual_size[w] = r.usual_size = size[trial_count / 2];
    for (std::size_t t = 0; t < trial_count; ++t) {
      Solutions found;
      if (!solve_one_way(setup, w, target[t], found)) r.doubted += 1.0 / trial_count;
      bool hit = false;
      for (int k = 0; k < found.count; ++k) hit = hit || same(found.solution[static_cast<std::size_t>(k)], own[t]);
      if (!hit) r.missed += 1.0 / trial_count;
    }
  }
  std::stable_sort(record.begin(), record.end(), [](const Record& x, const Record& y) { return x.cost() < y.cost(); });
  for (std::size_t w = 0; w < record.size(); ++w) {
    setup.way[w] = record[w].way;
    setup.usual_size[w] = record[w].usual_size;
    setup.missed[w] = record[w].missed;
    setup.doubted[w] = record[w].doubted;
  }
}

// Tries the ways until one leaves no doubt, or two that search different joints agree and leave only the doubt that
// comes with a singular posture.
Outcome solve_ways(const GeneralSetup& setup, const Loop& loop, const Pose& target, Solutions& out) {
  unsigned searched = 0;  // joints whose angle was the unknown: the same again would only repeat the doubt
  int agreeing = 0;
  for (std::size_t w = 0; w < setup.way.size(); ++w) {
    const unsigned bit = 1U << setup.way[w].joint(2);
    if (searched & bit) continue;
    searched |= bit;
    Solutions mine;
    const Outcome outcome = search_ring(setup, w, loop, target, mine);
    const int before = out.count;
    for (int k = 0; k < mine.count; ++k) add_distinct(out, mine.solution[static_cast<std::size_t>(k)]);
    if (out.count > before) agreeing = 0;
    if (mine.count < out.count) continue;  // it missed what others have found
    if (outcome == Outcome::sure) return w == 0 ? Outcome::sure : Outcome::fair;
    if (outcome == Outcome::fair && ++agreeing == 2) return Outcome::fair;
  }
  return Outcome::lost;
}

// Where the pose itself is degenerate, poses next to it are not: their answers are brought to the pose. Opposite
// neighbours, because a pair of answers that meets at the pose is real on one side only.
void add_from_neighbours(const GeneralSetup& setup, const Pose& target, Solutions& out) {
  constexpr double turn = 1.3e-3, shift = 0.9e-3;  // rad, unit lengths
  constexpr std::array<Vec3, 6> axes{Vec3{0.36, 0.48, 0.8},   Vec3{-0.64, 0.6, -0.48}, Vec3{0.48, -0.8, 0.36},
                                     Vec3{0.6, 0.64, -0.48}, Vec3{-0.8, -0.36, 0.48}, Vec3{0.48, 0.36, -0.8}};
  int count = 0;
  for (const Vec3& axis : axes) {
    if (++count > 2 && out.count > 0) break;
    const double scale = count % 2 == 1 ? 1 : 0.01;  // an arm that is nearly degenerate asks for a short way
    for (const double side : {1.0, -1.0}) {
      const Vec3 across{-axis.z, axis.x, axis.y};
      const Pose near{turn_about(axis, side * scale * turn) * target.rotation, target.position + (side * scale * shift * setup.size) * across};
      Solutions there;
      solve_ways(setup, loop_for(setup, near), near, there);
      for (int k = 0; k < there.count; ++k) {
        Solution s = there.solution[static_cast<std::size_t>(k)];
        if (!bring_to(setup.chain, setup.size, target, s.q)) continue;
        for (double& x : s.q) x = wrapped(x);
        add_distinct(out, s);
      }
    }
    settle_degenerate(setup.chain, setup.size, target, 0, out);  // makes room
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
  rank_ways(setup);
  return setup;
}

bool solve_one_way(const GeneralSetup& setup, std::size_t way, const Pose& target, Solutions& out) {
  out.count = 0;
  return search_ring(setup, way, loop_for(setup, target), target, out) == Outcome::sure;
}

void solve_general(const GeneralSetup& setup, const Pose& target, Solutions& out, double free_value) {
  out.count = 0;
  const Outcome outcome = solve_ways(setup, loop_for(setup, target), target, out);
  if (outcome == Outcome::sure) return;
  if (outcome == Outcome::lost) add_from_neighbours(setup, target, out);
  settle_degenerate(setup.chain, setup.size, target, free_value, out);
}

}  // namespace armwright
