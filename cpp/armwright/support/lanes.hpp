#pragma once

#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>

// Kernels are templates on a scalar type T that is either double (one posture) or a pack of lanes (several postures
// side by side). Every operation here exists for all of them, so that one derivation serves all.

#define ARMWRIGHT_INLINE [[gnu::always_inline]] inline

// A batch function marked so is compiled for the plain instruction set and for one with four double lanes and fused
// multiply-add; the loader picks. Everything it calls must be inline. For packs as wide as the processor has: with_lanes.hpp.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define ARMWRIGHT_BATCH __attribute__((target_clones("arch=x86-64-v3", "default"), flatten))
#else
#define ARMWRIGHT_BATCH
#endif

/// For lambdas called from such functions.
#define ARMWRIGHT_INLINE_LAMBDA __attribute__((always_inline))

namespace armwright {

// Without AVX a compiler aligns such a vector to 16 bytes, with it to its whole size and counts on that; what is stored by
// one kind of code and read by the other needs the larger, everywhere.

template <std::size_t N>
struct VectorsOf;
template <>
struct VectorsOf<4> {
  using Numbers = double __attribute__((vector_size(32)));
  using Bits = std::int64_t __attribute__((vector_size(32)));
  ARMWRIGHT_INLINE static Numbers all(double x) { return Numbers{x, x, x, x}; }
};
template <>
struct VectorsOf<8> {
  using Numbers = double __attribute__((vector_size(64)));
  using Bits = std::int64_t __attribute__((vector_size(64)));
  // Told as a shuffle, since a list of eight is taken apart where the function itself is compiled for narrower vectors.
  ARMWRIGHT_INLINE static Numbers all(double x) {
    const Numbers first{x};
    return __builtin_shufflevector(first, first, 0, 0, 0, 0, 0, 0, 0, 0);
  }
};

/// Yes or no, a lane each.
template <std::size_t N>
struct alignas(8 * N) MaskOf {
  using Vector = typename VectorsOf<N>::Bits;
  Vector v;

  ARMWRIGHT_INLINE friend MaskOf operator&(MaskOf a, MaskOf b) { return {a.v & b.v}; }
  ARMWRIGHT_INLINE friend MaskOf operator|(MaskOf a, MaskOf b) { return {a.v | b.v}; }
  ARMWRIGHT_INLINE friend MaskOf operator!(MaskOf a) { return {~a.v}; }
};

/// N numbers side by side.
template <std::size_t N>
struct alignas(8 * N) PackOf {
  static constexpr std::size_t width = N;
  using Vector = typename VectorsOf<N>::Numbers;
  using Mask = MaskOf<N>;
  Vector v;

  PackOf() = default;
  ARMWRIGHT_INLINE PackOf(double x) : v(VectorsOf<N>::all(x)) {}  // NOLINT: a constant is the same in every lane
  ARMWRIGHT_INLINE explicit PackOf(Vector x) : v(x) {}
  ARMWRIGHT_INLINE double operator[](std::size_t i) const { return v[i]; }
  ARMWRIGHT_INLINE void set(std::size_t i, double x) { v[i] = x; }
  ARMWRIGHT_INLINE PackOf& operator+=(PackOf b) { v += b.v; return *this; }
  ARMWRIGHT_INLINE PackOf& operator-=(PackOf b) { v -= b.v; return *this; }
  ARMWRIGHT_INLINE PackOf& operator*=(PackOf b) { v *= b.v; return *this; }

  ARMWRIGHT_INLINE friend PackOf operator+(PackOf a, PackOf b) { return PackOf(a.v + b.v); }
  ARMWRIGHT_INLINE friend PackOf operator-(PackOf a, PackOf b) { return PackOf(a.v - b.v); }
  ARMWRIGHT_INLINE friend PackOf operator*(PackOf a, PackOf b) { return PackOf(a.v * b.v); }
  ARMWRIGHT_INLINE friend PackOf operator/(PackOf a, PackOf b) { return PackOf(a.v / b.v); }
  ARMWRIGHT_INLINE friend PackOf operator-(PackOf a) { return PackOf(-a.v); }
  ARMWRIGHT_INLINE friend Mask operator<(PackOf a, PackOf b) { return {a.v < b.v}; }
  ARMWRIGHT_INLINE friend Mask operator>(PackOf a, PackOf b) { return {a.v > b.v}; }
  ARMWRIGHT_INLINE friend Mask operator<=(PackOf a, PackOf b) { return {a.v <= b.v}; }
  ARMWRIGHT_INLINE friend Mask operator>=(PackOf a, PackOf b) { return {a.v >= b.v}; }
};

using Lanes = PackOf<4>;      ///< wherever a number of lanes must be fixed
using Mask = MaskOf<4>;
using WideLanes = PackOf<8>;  ///< a register of the widest processors; elsewhere it costs two

template <class T>
inline constexpr std::size_t width_of = 1;
template <std::size_t N>
inline constexpr std::size_t width_of<PackOf<N>> = N;

template <std::size_t N>
ARMWRIGHT_INLINE PackOf<N> select(MaskOf<N> m, PackOf<N> a, PackOf<N> b) { return PackOf<N>(m.v ? a.v : b.v); }
ARMWRIGHT_INLINE double select(bool m, double a, double b) { return m ? a : b; }

ARMWRIGHT_INLINE bool any(MaskOf<4> m) {
  const auto halves = m.v | __builtin_shufflevector(m.v, m.v, 2, 3, 0, 1);
  return (halves[0] | halves[1]) != 0;
}
ARMWRIGHT_INLINE bool any(MaskOf<8> m) {
  return any(MaskOf<4>{__builtin_shufflevector(m.v, m.v, 0, 1, 2, 3) | __builtin_shufflevector(m.v, m.v, 4, 5, 6, 7)});
}
ARMWRIGHT_INLINE bool any(bool m) { return m; }
template <std::size_t N>
ARMWRIGHT_INLINE bool all(MaskOf<N> m) { return !any(!m); }
ARMWRIGHT_INLINE bool all(bool m) { return m; }
template <std::size_t N>
ARMWRIGHT_INLINE bool lane(MaskOf<N> m, std::size_t i) { return m.v[i] != 0; }
ARMWRIGHT_INLINE bool lane(bool m, std::size_t) { return m; }

ARMWRIGHT_INLINE double lane(double x, std::size_t) { return x; }
template <std::size_t N>
ARMWRIGHT_INLINE double lane(PackOf<N> x, std::size_t i) { return x[i]; }
ARMWRIGHT_INLINE void set_lane(double& x, std::size_t, double value) { x = value; }
template <std::size_t N>
ARMWRIGHT_INLINE void set_lane(PackOf<N>& x, std::size_t i, double value) { x.set(i, value); }

ARMWRIGHT_INLINE double minimum(double a, double b) { return a < b ? a : b; }
ARMWRIGHT_INLINE double maximum(double a, double b) { return a > b ? a : b; }
template <std::size_t N>
ARMWRIGHT_INLINE PackOf<N> minimum(PackOf<N> a, PackOf<N> b) { return select(a < b, a, b); }
template <std::size_t N>
ARMWRIGHT_INLINE PackOf<N> maximum(PackOf<N> a, PackOf<N> b) { return select(a > b, a, b); }
ARMWRIGHT_INLINE double absolute(double a) { return std::fabs(a); }
template <std::size_t N>
ARMWRIGHT_INLINE PackOf<N> absolute(PackOf<N> a) {
  using Bits = typename MaskOf<N>::Vector;
  return PackOf<N>((typename PackOf<N>::Vector)((Bits)a.v & INT64_C(0x7fffffffffffffff)));
}
ARMWRIGHT_INLINE double square_root(double a) { return std::sqrt(a); }
template <std::size_t N>
ARMWRIGHT_INLINE PackOf<N> square_root(PackOf<N> a) {
  PackOf<N> r;
  for (std::size_t i = 0; i < N; ++i) r.v[i] = __builtin_sqrt(a.v[i]);
  return r;
}

/// The first or the last four of eight lanes.
template <std::size_t First>
ARMWRIGHT_INLINE Lanes four_of(Lanes x) { return x; }
template <std::size_t First>
ARMWRIGHT_INLINE Lanes four_of(WideLanes x) { return Lanes(__builtin_shufflevector(x.v, x.v, First, First + 1, First + 2, First + 3)); }

/// Four values of each lane, stored as a run of four in each row: out[k * stride + 0..3] = lane k of a, b, c, d.
ARMWRIGHT_INLINE void store_quad(Lanes a, Lanes b, Lanes c, Lanes d, double* out, std::size_t stride) {
  const auto ab_low = __builtin_shufflevector(a.v, b.v, 0, 4, 2, 6), ab_high = __builtin_shufflevector(a.v, b.v, 1, 5, 3, 7);
  const auto cd_low = __builtin_shufflevector(c.v, d.v, 0, 4, 2, 6), cd_high = __builtin_shufflevector(c.v, d.v, 1, 5, 3, 7);
  const Lanes::Vector rows[4] = {
      __builtin_shufflevector(ab_low, cd_low, 0, 1, 4, 5), __builtin_shufflevector(ab_high, cd_high, 0, 1, 4, 5),
      __builtin_shufflevector(ab_low, cd_low, 2, 3, 6, 7), __builtin_shufflevector(ab_high, cd_high, 2, 3, 6, 7)};
  for (std::size_t k = 0; k < 4; ++k) __builtin_memcpy(out + k * stride, &rows[k], sizeof(rows[k]));
}
ARMWRIGHT_INLINE void store_quad(WideLanes a, WideLanes b, WideLanes c, WideLanes d, double* out, std::size_t stride) {
  store_quad(four_of<0>(a), four_of<0>(b), four_of<0>(c), four_of<0>(d), out, stride);
  store_quad(four_of<4>(a), four_of<4>(b), four_of<4>(c), four_of<4>(d), out + 4 * stride, stride);
}
/// The same for one row.
ARMWRIGHT_INLINE void store_quad(double a, double b, double c, double d, double* out, std::size_t) {
  out[0] = a;
  out[1] = b;
  out[2] = c;
  out[3] = d;
}


/// Number i of each lane's row: rows of `stride` numbers, one a lane.
template <class T>
ARMWRIGHT_INLINE T load_rows(const double* rows, std::size_t stride, std::size_t i) {
  T value(0.0);
  for (std::size_t k = 0; k < width_of<T>; ++k) set_lane(value, k, rows[k * stride + i]);
  return value;
}
/// And back.
template <class T>
ARMWRIGHT_INLINE void store_rows(T value, double* rows, std::size_t stride, std::size_t i) {
  for (std::size_t k = 0; k < width_of<T>; ++k) rows[k * stride + i] = lane(value, k);
}

}  // namespace armwright
