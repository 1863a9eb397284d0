#pragma once

#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include "armwright/support/instruction_set.hpp"

// Kernels are templates on a scalar type T that is either double (one posture) or a pack of lanes (several postures
// side by side). Every operation here exists for all of them, so that one derivation serves all.

#define ARMWRIGHT_INLINE [[gnu::always_inline]] inline

// A batch function marked so is compiled for the plain instruction set and for one with four double lanes and fused
// multiply-add; the loader picks. Everything it calls must be inline. For packs as wide as the processor has: with_lanes.hpp.
#if ARMWRIGHT_INSTRUCTION_SETS
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
};
template <>
struct VectorsOf<8> {
  using Numbers = double __attribute__((vector_size(64)));
  using Bits = std::int64_t __attribute__((vector_size(64)));
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

/// What packs of every kind share: the arithmetic of their vectors `v`.
template <class Pack>
struct PackArithmetic {
  ARMWRIGHT_INLINE friend Pack operator+(Pack a, Pack b) { return Pack(a.v + b.v); }
  ARMWRIGHT_INLINE friend Pack operator-(Pack a, Pack b) { return Pack(a.v - b.v); }
  ARMWRIGHT_INLINE friend Pack operator*(Pack a, Pack b) { return Pack(a.v * b.v); }
  ARMWRIGHT_INLINE friend Pack operator/(Pack a, Pack b) { return Pack(a.v / b.v); }
  ARMWRIGHT_INLINE friend Pack operator-(Pack a) { return Pack(-a.v); }
  ARMWRIGHT_INLINE friend Pack& operator+=(Pack& a, Pack b) { a.v += b.v; return a; }
  ARMWRIGHT_INLINE friend Pack& operator-=(Pack& a, Pack b) { a.v -= b.v; return a; }
  ARMWRIGHT_INLINE friend Pack& operator*=(Pack& a, Pack b) { a.v *= b.v; return a; }
};

/// N numbers side by side.
template <std::size_t N>
struct alignas(8 * N) PackOf : PackArithmetic<PackOf<N>> {
  static constexpr std::size_t width = N;
  using Vector = typename VectorsOf<N>::Numbers;
  using Mask = MaskOf<N>;
  Vector v;

  PackOf() = default;
  // Told by way of memory, which the compiler sees through: a list of numbers is taken apart where the function that it is
  // written in is compiled for narrower vectors than the one that it ends up in.
  ARMWRIGHT_INLINE PackOf(double x) {  // NOLINT: a constant is the same in every lane
#ifdef ARMWRIGHT_WHOLE_SOURCE  // is compiled for wide registers: there the way by memory would be a real one
    v = x - Vector{};
#else
    double all[N];
    for (double& each : all) each = x;
    __builtin_memcpy(&v, all, sizeof(v));
#endif
  }
  ARMWRIGHT_INLINE explicit PackOf(Vector x) : v(x) {}
  ARMWRIGHT_INLINE double operator[](std::size_t i) const { return v[i]; }
  ARMWRIGHT_INLINE void set(std::size_t i, double x) { v[i] = x; }

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

/// A run of successive numbers, one a lane.
template <class T>
ARMWRIGHT_INLINE T load_run(const double* numbers) {
  T value;
  __builtin_memcpy(&value, numbers, sizeof(T));
  return value;
}
/// And back.
template <class T>
ARMWRIGHT_INLINE void store_run(const T& value, double* numbers) { __builtin_memcpy(numbers, &value, sizeof(T)); }

/// As many packs as they have lanes, lane j of pack i and lane i of pack j exchanged.
ARMWRIGHT_INLINE void transpose(Lanes (&x)[4]) {
  const auto ab_low = __builtin_shufflevector(x[0].v, x[1].v, 0, 4, 2, 6), ab_high = __builtin_shufflevector(x[0].v, x[1].v, 1, 5, 3, 7);
  const auto cd_low = __builtin_shufflevector(x[2].v, x[3].v, 0, 4, 2, 6), cd_high = __builtin_shufflevector(x[2].v, x[3].v, 1, 5, 3, 7);
  x[0] = Lanes(__builtin_shufflevector(ab_low, cd_low, 0, 1, 4, 5));
  x[1] = Lanes(__builtin_shufflevector(ab_high, cd_high, 0, 1, 4, 5));
  x[2] = Lanes(__builtin_shufflevector(ab_low, cd_low, 2, 3, 6, 7));
  x[3] = Lanes(__builtin_shufflevector(ab_high, cd_high, 2, 3, 6, 7));
}

/// Four values of each lane, stored as a run of four in each row: out[k * stride + 0..3] = lane k of a, b, c, d.
ARMWRIGHT_INLINE void store_quad(Lanes a, Lanes b, Lanes c, Lanes d, double* out, std::size_t stride) {
  Lanes rows[4] = {a, b, c, d};
  transpose(rows);
  for (std::size_t k = 0; k < 4; ++k) store_run(rows[k], out + k * stride);
}
ARMWRIGHT_INLINE void store_quad(WideLanes a, WideLanes b, WideLanes c, WideLanes d, double* out, std::size_t stride) {
  const auto ab_low = __builtin_shufflevector(a.v, b.v, 0, 8, 2, 10, 4, 12, 6, 14), ab_high = __builtin_shufflevector(a.v, b.v, 1, 9, 3, 11, 5, 13, 7, 15);
  const auto cd_low = __builtin_shufflevector(c.v, d.v, 0, 8, 2, 10, 4, 12, 6, 14), cd_high = __builtin_shufflevector(c.v, d.v, 1, 9, 3, 11, 5, 13, 7, 15);
  const WideLanes::Vector pairs[4] = {  // of rows 0 and 4, 1 and 5 ...
      __builtin_shufflevector(ab_low, cd_low, 0, 1, 8, 9, 4, 5, 12, 13), __builtin_shufflevector(ab_high, cd_high, 0, 1, 8, 9, 4, 5, 12, 13),
      __builtin_shufflevector(ab_low, cd_low, 2, 3, 10, 11, 6, 7, 14, 15), __builtin_shufflevector(ab_high, cd_high, 2, 3, 10, 11, 6, 7, 14, 15)};
  for (std::size_t k = 0; k < 4; ++k) {
    const Lanes::Vector rows[2] = {__builtin_shufflevector(pairs[k], pairs[k], 0, 1, 2, 3), __builtin_shufflevector(pairs[k], pairs[k], 4, 5, 6, 7)};
    __builtin_memcpy(out + k * stride, &rows[0], sizeof(rows[0]));
    __builtin_memcpy(out + (k + 4) * stride, &rows[1], sizeof(rows[1]));
  }
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

/// All `count` numbers of each lane's row at once: runs of four, the last run drawn back so as to end at the last number;
/// fewer than four go one by one.
template <class T>
ARMWRIGHT_INLINE void store_rows(const T* values, std::size_t count, double* rows, std::size_t stride) {
  if (count < 4) {
    for (std::size_t i = 0; i < count; ++i) store_rows(values[i], rows, stride, i);
    return;
  }
  for (std::size_t i = 0;;) {
    store_quad(values[i], values[i + 1], values[i + 2], values[i + 3], rows + i, stride);
    if (i + 4 >= count) return;
    i = i + 8 <= count ? i + 4 : count - 4;
  }
}

}  // namespace armwright
