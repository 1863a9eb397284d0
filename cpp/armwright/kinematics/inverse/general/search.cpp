#include "armwright/kinematics/inverse/general/search.hpp"

#include <cmath>
#include <numbers>

#include "armwright/kinematics/inverse/general/approach.hpp"
#include "armwright/kinematics/inverse/general/resultant.hpp"
#include "armwright/kinematics/inverse/general/ring_answers.hpp"
#include "armwright/kinematics/inverse/polish.hpp"

namespace armwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double worth_polishing = 0.5;  // closure error, unit lengths: beyond it a candidate is a false one
constexpr double lost_gap = 1e-9;        // of null_answers(): a whole curve may answer
constexpr double rounding = 2e-15;       // of the determinant's usual size: what rounding leaves where it vanishes
constexpr double noisy = 1e-7;           // of TrigRoots::noise
constexpr double faint_share = 0.1;      // of the least determinant of the trial poses: below, the pose is near a degenerate one
constexpr double moved_too_far = 1e-3;   // rad: a polished answer this far from its root is not the root's

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

// From the half-angle tangent's angle, or the displacement of a joint that slides, to the joint's own.
double moved_back(const Search& s, std::size_t role, double angle, double offset) {
  return (s.labelled.slides[role] ? std::tan(0.5 * angle) : angle) + offset;
}

bool finish(const Search& s, std::array<double, 6>& q) {
  if (!s.setup.any_slides) return polish(s.setup.chain, s.target, q.data());
  return bring_to(s.setup.chain, s.setup.size, s.target, 0, q);
}

// Answers from one candidate angle. True if at least one answer belongs to it.
bool take_root(Search& s, double root) {
  const NullAnswers pairs = null_answers(s.sigma, std::cos(root), std::sin(root));
  bool explained = false;
  if (pairs.gap < lost_gap) s.degenerate = true;
  for (int k = 0; k < pairs.count; ++k) {
    const PairAngles& pair = pairs.answer[static_cast<std::size_t>(k)];
    std::array<double, 6> angle{0, 0, root, moved_back(s, 3, pair.d, s.setup.offsets.d), moved_back(s, 4, pair.e, s.setup.offsets.e), 0};
    bool lost = false;
    const double missed = complete_ring(s.labelled, s.right, angle, lost);
    s.degenerate = s.degenerate || (lost && missed < worth_polishing);
    if (!(missed < worth_polishing)) continue;
    Solution answer;
    for (int role = 0; role < 6; ++role) {
      const auto joint = static_cast<std::size_t>(s.way.joint(role));
      const double value = s.way.sign() * angle[static_cast<std::size_t>(role)];
      answer.q[joint] = s.setup.slides[joint] ? s.setup.size * value : wrapped(value - s.setup.chain.step[joint].zero);
    }
    const auto searched = static_cast<std::size_t>(s.way.joint(2));
    const double before = answer.q[searched];
    if (!finish(s, answer.q)) continue;
    add_answer(s.setup.chain, s.out, answer);
    if (std::fabs(wrapped(answer.q[searched] - before)) < moved_too_far) explained = true;
  }
  return explained;
}

// The angles at which the determinant is taken: the nodes, then the checks.
struct SampledTurns {
  static constexpr std::size_t count = trig_nodes + trig_check_nodes.size();
  std::array<double, count> cosine, sine;

  SampledTurns() {
    for (std::size_t k = 0; k < count; ++k) {
      const double node = k < trig_nodes ? static_cast<double>(k) : trig_check_nodes[k - trig_nodes];
      const double angle = 2 * pi * node / static_cast<double>(trig_nodes);
      cosine[k] = std::cos(angle);
      sine[k] = std::sin(angle);
    }
  }
};

TrigSamples sample(const Sigma& sigma) {
  static const SampledTurns turns;
  std::array<double, SampledTurns::count> values;
  resultants(sigma, turns.cosine.data(), turns.sine.data(), SampledTurns::count, values.data());
  TrigSamples samples;
  for (std::size_t k = 0; k < trig_nodes; ++k) samples.node[k] = values[k];
  for (std::size_t k = 0; k < samples.check.size(); ++k) samples.check[k] = values[trig_nodes + k];
  return samples;
}

double largest_of(const TrigSamples& samples) {
  double largest = 0;
  for (double x : samples.node) largest = std::fmax(largest, std::fabs(x));
  return largest;
}

}  // namespace

Loop loop_for(const GeneralSetup& setup, const Pose& target) {
  return make_loop(setup.links, setup.slides, setup.end, inverse(setup.chain.base) * target, setup.size);
}

Outcome search_ring(const GeneralSetup& setup, std::size_t rank, const Loop& loop, const Pose& target, Solutions& out) {
  const Labelling& way = setup.way[rank];
  Search s{setup, target, way, relabelled(loop, way), {}, {}, out, false};
  s.right = right_side(s.labelled);
  s.sigma = way.left_is_constant() ? eliminate(setup.left[way.tensor_index()], s.right, s.labelled.slides)
                                   : eliminate(left_tensor(s.labelled, setup.offsets), s.right, s.labelled.slides);
  const TrigSamples samples = sample(s.sigma);
  const bool faint = largest_of(samples) < faint_share * setup.least_size[rank];
  const TrigRoots roots = setup.finder.roots(samples, rounding * setup.usual_size[rank]);
  bool all_explained = true, touching = false;
  for (int k = 0; k < roots.count; ++k) {
    const TrigRoot& root = roots.root[static_cast<std::size_t>(k)];
    const bool explained = take_root(s, root.angle);
    if (root.kind == RootKind::touching) touching = true;
    if (!explained && root.kind == RootKind::crossing) all_explained = false;
  }
  if (roots.drowned || s.degenerate) return Outcome::lost;
  if (!all_explained || faint || roots.noise > noisy || out.count % 2 != 0) return Outcome::doubted;
  return touching ? Outcome::fair : Outcome::sure;
}

double determinant_size(const GeneralSetup& setup, const Labelling& way, const Pose& target) {
  const Loop labelled = relabelled(loop_for(setup, target), way);
  const Sigma sigma = eliminate(left_tensor(labelled, setup.offsets), right_side(labelled), labelled.slides);
  return largest_of(sample(sigma));
}

}  // namespace armwright
