#include "armwright/support/all_within.hpp"

#include "armwright/support/with_lanes.hpp"

namespace armwright {

namespace {

// Whole blocks from `at` on, which ends at the first number that is not looked at.
template <class T>
ARMWRIGHT_INLINE bool blocks_within(std::span<const double> numbers, double limit, std::size_t& at) {
  constexpr std::size_t side_by_side = 4, block = side_by_side * width_of<T>;
  T beyond[side_by_side] = {0.0, 0.0, 0.0, 0.0};
  for (; at + block <= numbers.size(); at += block) {
    for (std::size_t i = 0; i < side_by_side; ++i) {
      const T x = load_run<T>(&numbers[at + i * width_of<T>]);
      beyond[i] = select(absolute(x) <= T(limit), beyond[i], T(1.0));
    }
  }
  return !any(beyond[0] + beyond[1] + beyond[2] + beyond[3] > T(0.0));
}

}  // namespace

bool all_within(std::span<const double> numbers, double limit) {
  std::size_t at = 0;
  bool within = true;
  with_lanes([&]<class T>() ARMWRIGHT_INLINE_LAMBDA { within = blocks_within<T>(numbers, limit, at); });
  for (; at < numbers.size(); ++at) within = within && std::fabs(numbers[at]) <= limit;
  return within;
}

}  // namespace armwright
