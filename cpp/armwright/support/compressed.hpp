#pragma once

#include <cstddef>

#include "armwright/support/eight.hpp"
#include "armwright/support/four.hpp"

// Some lanes of a pack, drawn together.

namespace armwright {

/// Yes and no of the lanes as bits, the first lane's the lowest.
template <class Yes>
ARMWRIGHT_INLINE unsigned lane_bits(Yes m) {
  unsigned bits = 0;
  for (std::size_t k = 0; k < sizeof(m) / sizeof(double); ++k) bits |= static_cast<unsigned>(lane(m, k)) << k;
  return bits;
}
/// The lanes named by `bits` one after the other. A whole pack is written, or less: who calls keeps room, whatever stands there.
template <class T>
ARMWRIGHT_INLINE void store_compressed(const T& x, unsigned bits, double* to) {
  double all[width_of<T>];
  store_run(x, all);
  for (; bits != 0; bits &= bits - 1) *to++ = all[__builtin_ctz(bits)];
}

#if ARMWRIGHT_INSTRUCTION_SETS
ARMWRIGHT_INLINE unsigned lane_bits(EightBits m) { return m.v; }
ARMWRIGHT_INLINE unsigned lane_bits(FourBits m) { return static_cast<unsigned>(__builtin_ia32_movmskpd256(m.v)); }
ARMWRIGHT_INLINE void store_compressed(const Eight& x, unsigned bits, double* to) {
  store_run(Eight(__builtin_ia32_compressdf512_mask(x.v, x.v, static_cast<unsigned char>(bits))), to);
}
#endif

}  // namespace armwright
