#include "armwright/limits/guide_duty.hpp"

#include <cmath>

namespace armwright {

namespace {

// Keeps the greatest of a measure and the row it stands in. A measure that is not known is kept once met.
void keep(double measure, std::int64_t row, double& most, std::int64_t& at) {
  if (at < 0 || measure > most || (std::isnan(measure) && !std::isnan(most))) most = measure, at = row;
}

void take(const BlockLoad& load, double equivalent, std::int64_t row, BlockDuty& duty) {
  keep(load.radial, row, duty.radial_greatest, duty.radial_greatest_row);
  keep(equivalent, row, duty.equivalent_greatest, duty.equivalent_row);
  double lifted = -duty.radial_least, side = std::fabs(duty.lateral_greatest);
  keep(-load.radial, row, lifted, duty.radial_least_row);
  duty.radial_least = -lifted;
  keep(std::fabs(load.lateral), row, side, duty.lateral_row);
  if (duty.lateral_row == row) duty.lateral_greatest = load.lateral;
}

}  // namespace

void guide_duty(const Guide& guide, std::span<const double> wrench, std::span<const double> speed, std::span<const double> duty,
                std::span<double> loads, std::span<double> equivalent, std::span<BlockDuty> blocks) {
  const std::size_t count = blocks.size(), rows = speed.size();
  const double power = guide_life_exponent(guide.roller);
  for (BlockDuty& block : blocks) block = {0, 0, 0, -1, -1, -1, 0, -1, 0, 0};
  double travel = 0;
  for (std::size_t r = 0; r < rows; ++r) {
    const Eigen::Map<const Eigen::Matrix<double, 6, 1>> of_row(&wrench[6 * r]);
    Eigen::Map<Eigen::VectorXd> out(&loads[5 * count * r], static_cast<Eigen::Index>(5 * count));
    out.noalias() = guide.layout.map * of_row;
    const double way = std::fabs(speed[r]) * duty[r];
    travel += way;
    for (std::size_t b = 0; b < count; ++b) {
      const double* v = &loads[5 * (count * r + b)];
      const BlockLoad load{v[0], v[1], v[2], v[3], v[4]};
      const double counts = preloaded_block_load(equivalent_block_load(load, guide.factors), guide.preload, guide.roller);
      equivalent[count * r + b] = counts;
      take(load, counts, static_cast<std::int64_t>(r), blocks[b]);
      if (!(way > 0)) continue;
      blocks[b].mean += std::pow(counts, power) * way;
      blocks[b].travel_greatest = counts > blocks[b].travel_greatest || std::isnan(counts) ? counts : blocks[b].travel_greatest;
    }
  }
  for (BlockDuty& block : blocks) block.mean = travel > 0 ? std::pow(block.mean / travel, 1 / power) : 0;
}

RailBending worst_rail_bending(const RailBeam& beam, std::span<const double> train, std::span<const double> loads, std::span<const double> places) {
  const auto count = static_cast<Eigen::Index>(train.size());
  const auto rows = static_cast<Eigen::Index>(loads.size()) / count;
  const Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>> all(loads.data(), rows, count);
  RailBending worst;
  std::vector<double> at(train.size());
  for (const double place : places) {
    for (std::size_t i = 0; i < train.size(); ++i) at[i] = place + train[i];
    const RailInfluence bent = rail_influence(beam, at);
    const auto look = [&](const Eigen::MatrixXd& influence, double& most, double& most_place, std::int64_t& most_row) {
      for (Eigen::Index i = 0; i < influence.rows(); ++i)
        for (Eigen::Index r = 0; r < rows; ++r) {
          double value = 0;
          for (Eigen::Index j = 0; j < count; ++j) value += influence(i, j) * all(r, j);
          if (most_row < 0 || std::fabs(value) > std::fabs(most)) most = value, most_place = place, most_row = r;
        }
    };
    look(bent.deflection, worst.deflection, worst.deflection_place, worst.deflection_row);
    look(bent.moment, worst.moment, worst.moment_place, worst.moment_row);
  }
  return worst;
}

}  // namespace armwright
