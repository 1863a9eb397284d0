#pragma once

#include <cstdint>

/// Whether packs are compiled for several levels of instruction sets besides the plain one.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define ARMWRIGHT_PACK_LEVELS 1
#else
#define ARMWRIGHT_PACK_LEVELS 0
#endif

namespace armwright {

/// How many poses at once, and with which instructions: four with any, four with those of x86-64-v3, eight with x86-64-v4.
enum class PackLevel : std::uint8_t { plain, fours, eights };

/// The highest that this machine has.
PackLevel pack_level();

}  // namespace armwright
