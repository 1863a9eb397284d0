#include "armwright/elements/slewing_bearing.hpp"

#include <algorithm>

namespace armwright {

double limit_line_safety(std::span<const double> line_force, std::span<const double> line_moment, double axial, double moment) {
  const bool both_ways = line_force.front() >= 0;
  const double f = both_ways ? std::fabs(axial) : axial;
  double least = std::numeric_limits<double>::infinity();
  // The ray k (f, moment) against the side from (fa, ma) to (fb, mb), met a share s of the way along.
  const auto meet = [&](double fa, double ma, double fb, double mb) {
    const double across = f * (mb - ma) - moment * (fb - fa);
    if (across == 0) return;
    const double k = (fa * mb - ma * fb) / across, s = (moment * fa - f * ma) / across;
    if (k >= 0 && s >= -1e-12 && s <= 1 + 1e-12) least = std::min(least, k);
  };
  meet(both_ways ? 0 : line_force.front(), both_ways ? line_moment.front() : 0, line_force.front(), line_moment.front());
  for (std::size_t i = 1; i < line_force.size(); ++i) meet(line_force[i - 1], line_moment[i - 1], line_force[i], line_moment[i]);
  meet(line_force.back(), line_moment.back(), line_force.back(), 0);
  return least;
}

}  // namespace armwright
