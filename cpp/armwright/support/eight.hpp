#pragma once

#include <cstdint>

#include "armwright/support/lanes.hpp"

// Eight lanes whose yes and no are the bits of a byte, as the processors with 512-bit registers keep them. Which kind of yes
// and no a comparison of vectors gives, a word or a bit a lane, the compiler settles where it is written (gcc 12): in a function
// that is compiled for less it is the words, which are then taken apart lane by lane in the body for more that it is inlined
// into. Told as the instructions themselves comparisons and choices stay whole. Only for bodies that with_lanes() runs with
// eight lanes.

#if ARMWRIGHT_INSTRUCTION_SETS

// Declares the instructions, without letting any function of this file be compiled for them.
#pragma GCC push_options
#pragma GCC target("avx512f,avx512dq")
namespace armwright::detail {
using EightNumbers = double __attribute__((vector_size(64)));
using EightWords = long long __attribute__((vector_size(64)));
}
#pragma GCC pop_options

namespace armwright {

/// Yes or no, a bit each.
struct EightBits {
  std::uint8_t v;
  ARMWRIGHT_INLINE friend EightBits operator&(EightBits a, EightBits b) { return {static_cast<std::uint8_t>(a.v & b.v)}; }
  ARMWRIGHT_INLINE friend EightBits operator|(EightBits a, EightBits b) { return {static_cast<std::uint8_t>(a.v | b.v)}; }
  ARMWRIGHT_INLINE friend EightBits operator!(EightBits a) { return {static_cast<std::uint8_t>(~a.v)}; }
};

/// Eight numbers side by side.
struct alignas(64) Eight : PackArithmetic<Eight> {
  static constexpr std::size_t width = 8;
  using Vector = detail::EightNumbers;
  using Mask = EightBits;
  Vector v;

  Eight() = default;
  ARMWRIGHT_INLINE Eight(double x) {  // NOLINT: a constant is the same in every lane
    if (__builtin_constant_p(x)) {    // kept in memory then, one number, and read by the instruction that uses it
      const double all[width] = {x, x, x, x, x, x, x, x};
      __builtin_memcpy(&v, all, sizeof(v));
      return;
    }
    using Two = double __attribute__((vector_size(16)));
    v = __builtin_ia32_broadcastsd512(Two{x, x}, Vector{}, 255);
  }
  ARMWRIGHT_INLINE explicit Eight(Vector x) : v(x) {}
  ARMWRIGHT_INLINE double operator[](std::size_t i) const { return v[i]; }
  ARMWRIGHT_INLINE void set(std::size_t i, double x) { v[i] = x; }

  // The numbers name the comparison: less, less or equal, both false where a number is none.
  ARMWRIGHT_INLINE friend EightBits operator<(Eight a, Eight b) { return {__builtin_ia32_cmppd512_mask(a.v, b.v, 17, 255, 4)}; }
  ARMWRIGHT_INLINE friend EightBits operator<=(Eight a, Eight b) { return {__builtin_ia32_cmppd512_mask(a.v, b.v, 18, 255, 4)}; }
  ARMWRIGHT_INLINE friend EightBits operator>(Eight a, Eight b) { return b < a; }
  ARMWRIGHT_INLINE friend EightBits operator>=(Eight a, Eight b) { return b <= a; }
};

template <>
inline constexpr std::size_t width_of<Eight> = 8;

ARMWRIGHT_INLINE Eight select(EightBits m, Eight a, Eight b) { return Eight(__builtin_ia32_blendmpd_512_mask(b.v, a.v, m.v)); }
ARMWRIGHT_INLINE bool any(EightBits m) { return m.v != 0; }
ARMWRIGHT_INLINE bool all(EightBits m) { return m.v == 255; }
ARMWRIGHT_INLINE bool lane(EightBits m, std::size_t i) { return ((m.v >> i) & 1) != 0; }
ARMWRIGHT_INLINE double lane(Eight x, std::size_t i) { return x[i]; }
ARMWRIGHT_INLINE void set_lane(Eight& x, std::size_t i, double value) { x.set(i, value); }
// The smaller or larger of two is the second where one is no number, as of two doubles.
ARMWRIGHT_INLINE Eight minimum(Eight a, Eight b) { return Eight(__builtin_ia32_minpd512_mask(a.v, b.v, b.v, 255, 4)); }
ARMWRIGHT_INLINE Eight maximum(Eight a, Eight b) { return Eight(__builtin_ia32_maxpd512_mask(a.v, b.v, b.v, 255, 4)); }
ARMWRIGHT_INLINE Eight absolute(Eight a) { return Eight((Eight::Vector)((detail::EightWords)a.v & INT64_C(0x7fffffffffffffff))); }
ARMWRIGHT_INLINE Eight square_root(Eight a) { return Eight(__builtin_ia32_sqrtpd512_mask(a.v, a.v, 255, 4)); }

// See lanes.hpp.
ARMWRIGHT_INLINE EightBits last_bit(Eight x) { return {__builtin_ia32_ptestmq512((detail::EightWords)x.v, detail::EightWords{} + 1, 255)}; }
ARMWRIGHT_INLINE Eight turned(Eight x, Eight by, std::int64_t more) {
  return Eight((Eight::Vector)((detail::EightWords)x.v ^ ((((detail::EightWords)by.v + more) << 62) & INT64_MIN)));
}
ARMWRIGHT_INLINE void store_quad(Eight a, Eight b, Eight c, Eight d, double* out, std::size_t stride) {
  const auto ab_low = __builtin_shufflevector(a.v, b.v, 0, 8, 2, 10, 4, 12, 6, 14), ab_high = __builtin_shufflevector(a.v, b.v, 1, 9, 3, 11, 5, 13, 7, 15);
  const auto cd_low = __builtin_shufflevector(c.v, d.v, 0, 8, 2, 10, 4, 12, 6, 14), cd_high = __builtin_shufflevector(c.v, d.v, 1, 9, 3, 11, 5, 13, 7, 15);
  const Eight::Vector pairs[4] = {  // of rows 0 and 4, 1 and 5 ...
      __builtin_shufflevector(ab_low, cd_low, 0, 1, 8, 9, 4, 5, 12, 13), __builtin_shufflevector(ab_high, cd_high, 0, 1, 8, 9, 4, 5, 12, 13),
      __builtin_shufflevector(ab_low, cd_low, 2, 3, 10, 11, 6, 7, 14, 15), __builtin_shufflevector(ab_high, cd_high, 2, 3, 10, 11, 6, 7, 14, 15)};
  for (std::size_t k = 0; k < 4; ++k) {
    const Lanes::Vector rows[2] = {__builtin_shufflevector(pairs[k], pairs[k], 0, 1, 2, 3), __builtin_shufflevector(pairs[k], pairs[k], 4, 5, 6, 7)};
    __builtin_memcpy(out + k * stride, &rows[0], sizeof(rows[0]));
    __builtin_memcpy(out + (k + 4) * stride, &rows[1], sizeof(rows[1]));
  }
}

}  // namespace armwright

#endif
