#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "armwright/elements/guide_life.hpp"
#include "armwright/elements/rail_beam.hpp"

namespace armwright {

/// Blocks of one kind on a carriage.
struct Guide {
  GuideLayout layout;
  BlockFactors factors;
  double preload = 0;  ///< N a block
  bool roller = false;
};

/// What one block bears over all rows. Rows of extremes: the first of them; -1 where there are no rows.
struct BlockDuty {
  double radial_greatest, radial_least, lateral_greatest;  ///< N; lateral by magnitude, with its sign
  std::int64_t radial_greatest_row, radial_least_row, lateral_row;
  double equivalent_greatest;  ///< N, NaN if a moment that it bears has no known factor
  std::int64_t equivalent_row;
  double mean;               ///< N: equivalent loads over the travel of the lasting duty, (Σ P^p s / Σ s)^(1/p); 0 without travel
  double travel_greatest;    ///< N: greatest equivalent load while it travels in the lasting duty
};

/// Loads of every block in every row. `wrench`: (rows, 6) of the carriage on rails and feed, guide axes, about the carriage frame's
/// origin; `speed`: (rows,) m/s along the track; `duty`: (rows,) s that a row stands for in the lasting duty, 0 for rows that
/// count by their peaks only. Out: `loads` (rows, blocks, 5) in BlockLoad's order, `equivalent` (rows, blocks), `blocks` (blocks,).
void guide_duty(const Guide& guide, std::span<const double> wrench, std::span<const double> speed, std::span<const double> duty,
                std::span<double> loads, std::span<double> equivalent, std::span<BlockDuty> blocks);

/// The most that the blocks of one rail bend it, over all rows and places of the train.
struct RailBending {
  double deflection = 0, deflection_place = 0;  ///< m under a block, towards the rail positive; place of the train's first block, m
  double moment = 0, moment_place = 0;          ///< N m, sagging positive
  std::int64_t deflection_row = -1, moment_row = -1;
};

/// `train`: (blocks,) m from its first block, rising; `loads`: (rows, blocks) N towards the rail; `places`: where the first block is
/// tried, m from the beam's first support. Sampled: the worst of the places tried.
RailBending worst_rail_bending(const RailBeam& beam, std::span<const double> train, std::span<const double> loads, std::span<const double> places);

}  // namespace armwright
