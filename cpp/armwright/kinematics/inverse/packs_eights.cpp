// The whole source is for processors with AVX-512 registers: inline functions that are first met by the compiler for a narrower
// one would have their comparisons of lanes taken apart before they are inlined. Headers that others share come first.
#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <limits>
#include <optional>

#include "armwright/support/instruction_set.hpp"

#if ARMWRIGHT_INSTRUCTION_SETS
#define ARMWRIGHT_WHOLE_SOURCE 8  // lanes: see lanes.hpp
#pragma GCC target("arch=x86-64-v4")
#include "armwright/kinematics/inverse/find_turns.hpp"

namespace armwright {

void solve_in_eights(const PackBatch& batch) { solve_in_packs<WideLanes>(batch); }
void find_in_eights(const TurnBatch& batch, FoundTurns& to) { find_in_packs<WideLanes>(batch, to); }

}  // namespace armwright
#endif
