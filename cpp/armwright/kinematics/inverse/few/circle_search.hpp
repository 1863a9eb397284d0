#pragma once

#include <algorithm>
#include <cmath>

#include "armwright/kinematics/inverse/general/trig_roots.hpp"

namespace armwright {

/// Tables of the root finder, made once.
inline const TrigRootFinder& circle_finder() {
  static const TrigRootFinder finder;
  return finder;
}

/// The angles where f(angle), a trigonometric polynomial of degree 8 at most, is zero or nearly touches it. Where it is zero
/// everywhere (no value above `nothing`), twelve angles from `first` on: any will do, and one may suit the other joints.
template <class Function>
TrigRoots circle_search(Function&& f, double nothing, double first) {
  const auto at_node = [&](double node) { return f(6.283185307179586476925 * node / static_cast<double>(trig_nodes)); };
  TrigSamples samples;
  double most = 0;
  for (std::size_t k = 0; k < trig_nodes; ++k) {
    samples.node[k] = at_node(static_cast<double>(k));
    most = std::max(most, std::fabs(samples.node[k]));
  }
  for (std::size_t k = 0; k < samples.check.size(); ++k) samples.check[k] = at_node(trig_check_nodes[k]);
  if (!(most > nothing)) {
    TrigRoots any;
    for (int k = 0; k < 12; ++k) any.add(first + 6.283185307179586476925 * k / 12, RootKind::touching);
    return any;
  }
  return circle_finder().roots(samples, 4e-15 * most);
}

}  // namespace armwright
