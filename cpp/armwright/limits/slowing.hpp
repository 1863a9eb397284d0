#pragma once

#include "armwright/limits/scaled_torques.hpp"
#include "armwright/support/parallel.hpp"

namespace armwright {

/// What a cycle could carry if it were run k times as slowly.
struct SlowedLoad {
  double slowing = 1;              ///< k; infinite: so slowly that only weight counts
  double duration = 0;             ///< s
  double peak = 0, continuous = 0; ///< factors on all loads that peak limits and means over the cycle allow
  Violation least;                 ///< what holds it: factor, axis, part, limit, time
};

/// Payload against cycle time for uniform slowing: torques go as weight + friction(1/k) + inertia/k², so that each k is solved and
/// not searched (see greatest_load). Speed limits of motors and stages at k < 1 count too: where the arm is too fast, the factor is 0. False in
/// `complete` if cancelled. The same for any number of threads.
struct SlowedLoads {
  std::vector<SlowedLoad> points;
  bool complete = true;
};
SlowedLoads payload_against_slowing(const Model& model, const ScaledTorques& torques, std::span<const double> slowing, double cap, unsigned threads, const Progress& progress);

}  // namespace armwright
