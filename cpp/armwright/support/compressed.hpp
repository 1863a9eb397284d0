#pragma once

#include <cstddef>

#include "armwright/support/lanes.hpp"

// Some lanes of a pack, drawn together.

namespace armwright {

/// Yes and no of the lanes as bits, the first lane's the lowest.
template <std::size_t N>
ARMWRIGHT_INLINE unsigned lane_bits(MaskOf<N> m) {
#if defined(ARMWRIGHT_WHOLE_SOURCE) && ARMWRIGHT_WHOLE_SOURCE == 8
  using LongLongs = long long __attribute__((vector_size(64)));  // what the instruction asks for by name
  if constexpr (N == 8) return __builtin_ia32_cvtq2mask512((LongLongs)m.v);
#endif
  unsigned bits = 0;
  for (std::size_t k = 0; k < N; ++k) bits |= static_cast<unsigned>(m.v[k] & 1) << k;
  return bits;
}

/// The lanes named by `bits` one after the other. A whole pack is written, whatever stands beyond them.
template <std::size_t N>
ARMWRIGHT_INLINE void store_compressed(const PackOf<N>& x, unsigned bits, double* to) {
#if defined(ARMWRIGHT_WHOLE_SOURCE) && ARMWRIGHT_WHOLE_SOURCE == 8
  if constexpr (N == 8) return store_run(PackOf<N>(__builtin_ia32_compressdf512_mask(x.v, x.v, static_cast<unsigned char>(bits))), to);
#endif
  double all[N];
  store_run(x, all);
  for (; bits != 0; bits &= bits - 1) *to++ = all[__builtin_ctz(bits)];
}

}  // namespace armwright
