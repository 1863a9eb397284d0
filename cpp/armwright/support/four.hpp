#pragma once

#include <cstdint>

#include "armwright/support/lanes.hpp"

// Four lanes told as the instructions of processors with 256-bit registers, for the same reason as eight.hpp tells eight. Only for
// bodies that with_lanes() runs with them.

#if ARMWRIGHT_INSTRUCTION_SETS

// Declares the instructions, without letting any function of this file be compiled for them.
#pragma GCC push_options
#pragma GCC target("avx2")
namespace armwright::detail {
using FourNumbers = double __attribute__((vector_size(32)));
using FourWords = std::int64_t __attribute__((vector_size(32)));
}
#pragma GCC pop_options

namespace armwright {

/// Yes or no, all bits of a lane each.
struct alignas(32) FourBits {
  detail::FourNumbers v;
  ARMWRIGHT_INLINE friend FourBits operator&(FourBits a, FourBits b) { return {(detail::FourNumbers)((detail::FourWords)a.v & (detail::FourWords)b.v)}; }
  ARMWRIGHT_INLINE friend FourBits operator|(FourBits a, FourBits b) { return {(detail::FourNumbers)((detail::FourWords)a.v | (detail::FourWords)b.v)}; }
  ARMWRIGHT_INLINE friend FourBits operator!(FourBits a) { return {(detail::FourNumbers)~(detail::FourWords)a.v}; }
};

/// Four numbers side by side.
struct alignas(32) Four : PackArithmetic<Four> {
  static constexpr std::size_t width = 4;
  using Vector = detail::FourNumbers;
  using Mask = FourBits;
  Vector v;

  Four() = default;
  // Copied as the one vector that it is: where the struct is laid out there are no such registers, and its bytes would go in halves.
  ARMWRIGHT_INLINE Four(const Four& other) : v(other.v) {}
  ARMWRIGHT_INLINE Four& operator=(const Four& other) { v = other.v; return *this; }
  ARMWRIGHT_INLINE Four(double x) {  // NOLINT: a constant is the same in every lane
    if (__builtin_constant_p(x)) {   // kept in memory then
      const double all[width] = {x, x, x, x};
      __builtin_memcpy(&v, all, sizeof(v));
      return;
    }
    using Two = double __attribute__((vector_size(16)));
    v = __builtin_ia32_vbroadcastsd_pd256(Two{x, x});
  }
  ARMWRIGHT_INLINE explicit Four(Vector x) : v(x) {}
  ARMWRIGHT_INLINE double operator[](std::size_t i) const { return v[i]; }
  ARMWRIGHT_INLINE void set(std::size_t i, double x) { v[i] = x; }

  // As of Eight.
  ARMWRIGHT_INLINE friend FourBits operator<(Four a, Four b) { return {__builtin_ia32_cmppd256(a.v, b.v, 17)}; }
  ARMWRIGHT_INLINE friend FourBits operator<=(Four a, Four b) { return {__builtin_ia32_cmppd256(a.v, b.v, 18)}; }
  ARMWRIGHT_INLINE friend FourBits operator>(Four a, Four b) { return b < a; }
  ARMWRIGHT_INLINE friend FourBits operator>=(Four a, Four b) { return b <= a; }
};

template <>
inline constexpr std::size_t width_of<Four> = 4;

ARMWRIGHT_INLINE Four select(FourBits m, Four a, Four b) { return Four(__builtin_ia32_blendvpd256(b.v, a.v, m.v)); }
ARMWRIGHT_INLINE bool any(FourBits m) { return __builtin_ia32_movmskpd256(m.v) != 0; }
ARMWRIGHT_INLINE bool all(FourBits m) { return __builtin_ia32_movmskpd256(m.v) == 15; }
ARMWRIGHT_INLINE bool lane(FourBits m, std::size_t i) { return ((__builtin_ia32_movmskpd256(m.v) >> i) & 1) != 0; }
ARMWRIGHT_INLINE double lane(Four x, std::size_t i) { return x[i]; }
ARMWRIGHT_INLINE void set_lane(Four& x, std::size_t i, double value) { x.set(i, value); }
ARMWRIGHT_INLINE Four minimum(Four a, Four b) { return Four(__builtin_ia32_minpd256(a.v, b.v)); }
ARMWRIGHT_INLINE Four maximum(Four a, Four b) { return Four(__builtin_ia32_maxpd256(a.v, b.v)); }
ARMWRIGHT_INLINE Four absolute(Four a) { return Four((Four::Vector)((detail::FourWords)a.v & INT64_C(0x7fffffffffffffff))); }
ARMWRIGHT_INLINE Four square_root(Four a) { return Four(__builtin_ia32_sqrtpd256(a.v)); }

// See lanes.hpp.
ARMWRIGHT_INLINE FourBits last_bit(Four x) { return {(detail::FourNumbers)(((detail::FourWords)x.v << 63) >> 63)}; }
ARMWRIGHT_INLINE Four turned(Four x, Four by, std::int64_t more) {
  return Four((Four::Vector)((detail::FourWords)x.v ^ ((((detail::FourWords)by.v + more) << 62) & INT64_MIN)));
}
ARMWRIGHT_INLINE void transpose(Four (&x)[4]) { transpose_four(x); }
ARMWRIGHT_INLINE void store_quad(Four a, Four b, Four c, Four d, double* out, std::size_t stride) { store_quad_of_four(a, b, c, d, out, stride); }

}  // namespace armwright

#endif
