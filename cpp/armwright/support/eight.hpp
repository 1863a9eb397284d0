#pragma once

#include <cstdint>
#include <type_traits>

#include "armwright/support/lanes.hpp"

// Eight lanes whose yes and no are the bits of a byte, as the processors with 512-bit registers keep them. The compiler
// takes comparisons and choices of vectors apart, lane by lane, where they stand in a function that is compiled for less,
// before it inlines that into a body for more (gcc 12); told as the instructions themselves they stay whole. Only for bodies
// that with_lanes() runs with eight lanes: see widened.

#if ARMWRIGHT_INSTRUCTION_SETS

// Declares the instructions, without letting any function of this file be compiled for them.
#pragma GCC push_options
#pragma GCC target("avx512f,avx512dq")
namespace armwright::detail {
using EightNumbers = double __attribute__((vector_size(64)));
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
  ARMWRIGHT_INLINE static detail::EightNumbers all_of(double x) {
    using Two = double __attribute__((vector_size(16)));
    const Two first{x, x};
    return __builtin_ia32_broadcastsd512(first, detail::EightNumbers{}, 255);
  }

  static constexpr std::size_t width = 8;
  using Vector = detail::EightNumbers;
  Vector v;

  Eight() = default;
  ARMWRIGHT_INLINE Eight(double x) : v(all_of(x)) {}  // NOLINT: a constant is the same in every lane
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
ARMWRIGHT_INLINE Eight absolute(Eight a) { return Eight(absolute(WideLanes(a.v)).v); }
ARMWRIGHT_INLINE Eight square_root(Eight a) { return Eight(__builtin_ia32_sqrtpd512_mask(a.v, a.v, 255, 4)); }

template <class T>
using widened = std::conditional_t<std::is_same_v<T, WideLanes>, Eight, T>;

}  // namespace armwright

#else

namespace armwright {
template <class T>
using widened = T;
}  // namespace armwright

#endif
