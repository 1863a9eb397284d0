#pragma once

#include "armwright/support/with_lanes.hpp"

namespace armwright::testing {

/// Calls body.operator()<T>() for every pack of lanes that this processor has.
template <class Body>
void in_each_pack(const Body& body) {
  body.template operator()<Lanes>();
#if ARMWRIGHT_INSTRUCTION_SETS
  if (instruction_set() == InstructionSet::plain) return;
  detail::with_four(body);
  if (instruction_set() == InstructionSet::eights) detail::with_eight(body);
#endif
}

}  // namespace armwright::testing
