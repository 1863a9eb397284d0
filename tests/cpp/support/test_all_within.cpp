#include "armwright/support/all_within.hpp"

#include <cmath>
#include <limits>
#include <vector>

#include "catch_shim.hpp"
#include "cell_cases.hpp"

using namespace armwright;
using armwright::testing::Draw;

TEST_CASE("one number too large, or none at all, is seen wherever it stands") {
  Draw draw{1};
  for (std::size_t size = 0; size <= 70; ++size) {
    std::vector<double> numbers(size);
    for (double& x : numbers) x = draw.uniform(-5, 5);
    CHECK(all_within(numbers, 5));
    for (std::size_t at = 0; at < size; ++at) {
      const double kept = numbers[at];
      for (const double odd : {5.0000001, -5.0000001, std::nan(""), -std::nan(""), HUGE_VAL, -HUGE_VAL}) {
        numbers[at] = odd;
        CHECK_FALSE(all_within(numbers, 5));
      }
      numbers[at] = at % 2 ? 5 : -5;
      CHECK(all_within(numbers, 5));
      numbers[at] = kept;
    }
  }
}
