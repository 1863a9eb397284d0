#pragma once

#include <span>

namespace armwright {

/// Whether every number is at most `limit` in size: false where one is not a number.
bool all_within(std::span<const double> numbers, double limit);

}  // namespace armwright
