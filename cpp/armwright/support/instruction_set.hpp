#pragma once

#include <cstdint>

/// Whether kernels are compiled for several instruction sets besides the plain one, and which is taken is chosen when the
/// program runs.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define ARMWRIGHT_INSTRUCTION_SETS 1
#else
#define ARMWRIGHT_INSTRUCTION_SETS 0
#endif

namespace armwright {

/// How many numbers side by side, and with which instructions: four with any, four with those of x86-64-v3, eight with those of
/// x86-64-v4.
enum class InstructionSet : std::uint8_t { plain, fours, eights };

/// The highest that this processor has.
inline InstructionSet instruction_set() {
#if ARMWRIGHT_INSTRUCTION_SETS
  if (__builtin_cpu_supports("x86-64-v4")) return InstructionSet::eights;
  if (__builtin_cpu_supports("x86-64-v3")) return InstructionSet::fours;
#endif
  return InstructionSet::plain;
}

}  // namespace armwright
