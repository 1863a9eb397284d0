#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "armwright/kinematics/inverse/general/approach.hpp"
#include "armwright/kinematics/inverse/general/search.hpp"

namespace armwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr std::size_t trial_count = 48, first_trials = 12, size_count = 24;
constexpr double useless = 0.3;  // share of missed trial postures beyond which a way is a last resort

// Roles 1, 2 and 5 are for joints that turn.
bool may_play(const GeneralSetup& setup, const Labelling& way) {
  for (const int role : {1, 2, 5}) {
    if (setup.slides[static_cast<std::size_t>(way.joint(role))]) return false;
  }
  return true;
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
    links[k] = before * link_of(chain.step[k]) * after;
    if (i > 0) length += norm(links[k].position);
  }
  setup.size = length > 0 ? 0.5 * length : 1;
  for (auto& link : links) link.position = (1 / setup.size) * link.position;
  setup.links = links;
  setup.end = Pose{no_rotation, {0, 0, -slide(5)}} * chain.end;
}

struct Trials {
  std::array<Solution, trial_count> own;
  std::array<Pose, trial_count> target;
};

Trials make_trials(const GeneralSetup& setup) {
  Trials trials;
  for (std::size_t t = 0; t < trial_count; ++t) {
    trials.own[t].q = trial_posture(setup, static_cast<int>(t));
    trials.target[t] = chain_end(setup.chain, trials.own[t].q.data());
  }
  return trials;
}

bool found_among(const GeneralSetup& setup, const Solutions& found, const Solution& own) {
  for (int k = 0; k < found.count; ++k) {
    if (apart(setup.chain, setup.size, found.solution[static_cast<std::size_t>(k)].q, own.q) < same_answer) return true;
  }
  return false;
}

// The size of a way's determinant over the trial poses, how often it misses the posture, how often it leaves doubt.
void try_way(GeneralSetup& setup, std::size_t w, const Trials& trials) {
  std::array<double, size_count> size;
  for (std::size_t t = 0; t < size_count; ++t) size[t] = determinant_size(setup, setup.way[w], trials.target[t]);
  std::nth_element(size.begin(), size.begin() + size_count / 2, size.end());
  setup.usual_size[w] = size[size_count / 2];
  setup.least_size[w] = *std::min_element(size.begin(), size.end());
  int doubted = 0, missed = 0, tried = 0;
  for (std::size_t t = 0; t < trial_count; ++t) {
    if (t == first_trials && 2 * (doubted + missed) > static_cast<int>(first_trials)) break;  // no good, that is enough
    Solutions found;
    if (!solve_one_way(setup, w, trials.target[t], found)) ++doubted;
    if (!found_among(setup, found, trials.own[t])) ++missed;
    ++tried;
  }
  setup.doubted[w] = static_cast<double>(doubted) / tried;
  setup.missed[w] = static_cast<double>(missed) / tried;
}

template <class T>
void reorder(std::array<T, GeneralSetup::most_ways>& values, const std::vector<std::size_t>& order) {
  const auto before = values;
  for (std::size_t w = 0; w < order.size(); ++w) values[w] = before[order[w]];
}

// Tries every way on the arm's own postures; best first.
void rank_ways(GeneralSetup& setup) {
  for (const bool backward : {false, true}) {
    for (int shift = 0; shift < 6; ++shift) {
      const Labelling way{shift, backward};
      if (may_play(setup, way)) setup.way[setup.way_count++] = way;
    }
  }
  const Trials trials = make_trials(setup);
  std::vector<std::size_t> order;
  for (std::size_t w = 0; w < setup.way_count; ++w) {
    try_way(setup, w, trials);
    if (setup.missed[w] < useless) ++setup.good_count;
    order.push_back(w);
  }
  const auto cost = [&](std::size_t w) {
    return 10 * setup.missed[w] + setup.doubted[w] + (setup.way[w].left_is_constant() ? 0 : 0.02);
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) { return cost(x) < cost(y); });
  reorder(setup.way, order);
  reorder(setup.usual_size, order);
  reorder(setup.least_size, order);
  reorder(setup.missed, order);
  reorder(setup.doubted, order);
}

}  // namespace

std::array<double, 6> trial_posture(const GeneralSetup& setup, int index) {
  std::array<double, 6> q;
  constexpr double step[6] = {0.41421356237, 0.73205080757, 0.23606797750, 0.64575131106, 0.31662479036, 0.60555127546};
  for (std::size_t i = 0; i < 6; ++i) q[i] = wrapped(2 * pi * step[i] * (index + 1) + 0.1 * static_cast<double>(i));
  for (std::size_t i = 0; i < 6; ++i) {
    if (setup.slides[i]) q[i] *= setup.size / pi;
  }
  return q;
}

GeneralSetup prepare_general(const SixChain& chain) {
  GeneralSetup setup;
  setup.chain = chain;
  for (std::size_t i = 0; i < 6; ++i) {
    setup.slides[i] = slides(chain, i);
    setup.any_slides = setup.any_slides || setup.slides[i];
  }
  shorten_links(chain, setup);
  const Loop loop = loop_for(setup, identity_pose);  // the target is not read where it matters
  for (const int shift : {0, 5}) {
    for (const bool backward : {false, true}) {
      const Labelling way{shift, backward};
      setup.left[way.tensor_index()] = left_tensor(relabelled(loop, way), setup.offsets);
    }
  }
  rank_ways(setup);
  return setup;
}

}  // namespace armwright
