#pragma once

#include "armwright/support/eight.hpp"
#include "armwright/support/four.hpp"

namespace armwright {

#if ARMWRIGHT_INSTRUCTION_SETS

namespace detail {

// The instruction sets that a body is compiled for; all that it calls must be inline.
template <class Body>
__attribute__((target("arch=x86-64-v4"), flatten, noinline)) void with_eight(const Body& body) {
  body.template operator()<Eight>();
}
template <class Body>
__attribute__((target("arch=x86-64-v3"), flatten, noinline)) void with_four(const Body& body) {
  body.template operator()<Four>();
}
template <class Body>
__attribute__((flatten, noinline)) void with_plain(const Body& body) {
  body.template operator()<Lanes>();
}

}  // namespace detail

/// Calls body.operator()<T>() once, T the pack of lanes that this processor is best with: eight lanes where it has
/// 512-bit registers, otherwise four. Results of one machine are always worked out with one of them. `with`: at most what this
/// machine has.
template <class Body>
void with_lanes(const Body& body, InstructionSet with = instruction_set()) {
  switch (with) {
    case InstructionSet::eights: return detail::with_eight(body);
    case InstructionSet::fours: return detail::with_four(body);
    case InstructionSet::plain: return detail::with_plain(body);
  }
}

#else

template <class Body>
void with_lanes(const Body& body, InstructionSet = instruction_set()) {
  body.template operator()<Lanes>();
}

#endif

}  // namespace armwright
