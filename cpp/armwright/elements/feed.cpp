#include "armwright/elements/feed.hpp"

#include <algorithm>
#include <array>
#include <limits>

namespace armwright {

double lewis_factor(double teeth) {
  struct Entry {
    double teeth, factor;
  };
  static constexpr std::array<Entry, 26> table = {{
      {12, 0.245}, {13, 0.261}, {14, 0.277}, {15, 0.290}, {16, 0.296}, {17, 0.303}, {18, 0.309}, {19, 0.314}, {20, 0.322}, {21, 0.328},
      {22, 0.331}, {24, 0.337}, {26, 0.346}, {28, 0.353}, {30, 0.359}, {34, 0.371}, {38, 0.384}, {43, 0.397}, {50, 0.409}, {60, 0.422},
      {75, 0.435}, {100, 0.447}, {150, 0.460}, {300, 0.472}, {400, 0.480}, {1e4, 0.485},
  }};
  if (!(teeth >= table.front().teeth)) return std::numeric_limits<double>::quiet_NaN();
  const auto above = std::upper_bound(table.begin(), table.end(), teeth, [](double z, const Entry& e) { return z < e.teeth; });
  if (above == table.end()) return table.back().factor;
  const Entry &low = *(above - 1), &high = *above;
  return low.factor + (high.factor - low.factor) * (teeth - low.teeth) / (high.teeth - low.teeth);
}

}  // namespace armwright
