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

/// Yes or no, a lane each.
struct alignas(32) Mask {
  using Vector = std::int64_t __attribute__((vector_size(32)));
  Vector v;

  ARMWRIGHT_INLINE friend Mask operator&(Mask a, Mask b) { return {a.v & b.v}; }
  ARMWRIGHT_INLINE friend Mask operator|(Mask a, Mask b) { return {a.v | b.v}; }
  ARMWRIGHT_INLINE friend Mask operator!(Mask a) { return {~a.v}; }
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

/// Four numbers side by side.
struct alignas(32) Lanes : PackArithmetic<Lanes> {
  static constexpr std::size_t width = 4;
  using Vector = double __attribute__((vector_size(32)));
  using Mask = armwright::Mask;
  Vector v;

  Lanes() = default;
  // Told by way of memory, which the compiler sees through: a list of numbers is taken apart where the function that it is
  // written in is compiled for narrower vectors than the one that it ends up in.
  ARMWRIGHT_INLINE Lanes(double x) {  // NOLINT: a constant is the same in every lane
    const double all[width] = {x, x, x, x};
    __builtin_memcpy(&v, all, sizeof(v));
  }
  ARMWRIGHT_INLINE explicit Lanes(Vector x) : v(x) {}
  ARMWRIGHT_INLINE double operator[](std::size_t i) const { return v[i]; }
  ARMWRIGHT_INLINE void set(std::size_t i, double x) { v[i] = x; }

  ARMWRIGHT_INLINE friend Mask operator<(Lanes a, Lanes b) { return {a.v < b.v}; }
  ARMWRIGHT_INLINE friend Mask operator>(Lanes a, Lanes b) { return {a.v > b.v}; }
  ARMWRIGHT_INLINE friend Mask operator<=(Lanes a, Lanes b) { return {a.v <= b.v}; }
  ARMWRIGHT_INLINE friend Mask operator>=(Lanes a, Lanes b) { return {a.v >= b.v}; }
};

inline constexpr std::size_t widest_pack = 8;  ///< lanes of the widest pack: see eight.hpp

template <class T>
inline constexpr std::size_t width_of = 1;
template <>
inline constexpr std::size_t width_of<Lanes> = Lanes::width;

ARMWRIGHT_INLINE Lanes select(Mask m, Lanes a, Lanes b) { return Lanes(m.v ? a.v : b.v); }
ARMWRIGHT_INLINE double select(bool m, double a, double b) { return m ? a : b; }

ARMWRIGHT_INLINE bool any(Mask m) {
  const auto halves = m.v | __builtin_shufflevector(m.v, m.v, 2, 3, 0, 1);
  return (halves[0] | halves[1]) != 0;
}
ARMWRIGHT_INLINE bool any(bool m) { return m; }
ARMWRIGHT_INLINE bool all(Mask m) { return !any(!m); }
ARMWRIGHT_INLINE bool all(bool m) { return m; }
ARMWRIGHT_INLINE bool lane(Mask m, std::size_t i) { return m.v[i] != 0; }
ARMWRIGHT_INLINE bool lane(bool m, std::size_t) { return m; }

ARMWRIGHT_INLINE double lane(double x, std::size_t) { return x; }
ARMWRIGHT_INLINE double lane(Lanes x, std::size_t i) { return x[i]; }
ARMWRIGHT_INLINE void set_lane(double& x, std::size_t, double value) { x = value; }
ARMWRIGHT_INLINE void set_lane(Lanes& x, std::size_t i, double value) { x.set(i, value); }

ARMWRIGHT_INLINE double minimum(double a, double b) { return a < b ? a : b; }
ARMWRIGHT_INLINE double maximum(double a, double b) { return a > b ? a : b; }
ARMWRIGHT_INLINE Lanes minimum(Lanes a, Lanes b) { return select(a < b, a, b); }
ARMWRIGHT_INLINE Lanes maximum(Lanes a, Lanes b) { return select(a > b, a, b); }
ARMWRIGHT_INLINE double absolute(double a) { return std::fabs(a); }
ARMWRIGHT_INLINE Lanes absolute(Lanes a) { return Lanes((Lanes::Vector)((Mask::Vector)a.v & INT64_C(0x7fffffffffffffff))); }
ARMWRIGHT_INLINE double square_root(double a) { return std::sqrt(a); }
ARMWRIGHT_INLINE Lanes square_root(Lanes a) {
  Lanes r;
  for (std::size_t i = 0; i < Lanes::width; ++i) r.v[i] = __builtin_sqrt(a.v[i]);
  return r;
}

/// Whether the last of a number's bits is set.
ARMWRIGHT_INLINE bool last_bit(double x) { return (std::bit_cast<std::int64_t>(x) & 1) != 0; }
ARMWRIGHT_INLINE Mask last_bit(Lanes x) { return {((Mask::Vector)x.v & 1) != 0}; }
/// x with its sign turned where the last bit but one of the number `by`, `more` added to its bits, is set.
ARMWRIGHT_INLINE double turned(double x, double by, std::int64_t more) {
  return std::bit_cast<double>(std::bit_cast<std::int64_t>(x) ^ (((std::bit_cast<std::int64_t>(by) + more) << 62) & INT64_MIN));
}
ARMWRIGHT_INLINE Lanes turned(Lanes x, Lanes by, std::int64_t more) {
  return Lanes((Lanes::Vector)((Mask::Vector)x.v ^ ((((Mask::Vector)by.v + more) << 62) & INT64_MIN)));
}

/// A run of successive numbers, one a lane.
template <class T>
ARMWRIGHT_INLINE T load_run(const double* numbers) {
  if constexpr (width_of<T> == 1) {
    return *numbers;
  } else {  // as one vector: the bytes alone would be moved in pieces as wide as where this is written
    using Anywhere [[gnu::aligned(8), gnu::may_alias]] = typename T::Vector;
    return T(*reinterpret_cast<const Anywhere*>(numbers));
  }
}
/// And back.
template <class T>
ARMWRIGHT_INLINE void store_run(const T& value, double* numbers) {
  if constexpr (width_of<T> == 1) {
    *numbers = value;
  } else {
    using Anywhere [[gnu::aligned(8), gnu::may_alias]] = typename T::Vector;
    *reinterpret_cast<Anywhere*>(numbers) = value.v;
  }
}

/// As many packs as they have lanes, lane j of pack i and lane i of pack j exchanged; packs of four.
template <class Pack>
ARMWRIGHT_INLINE void transpose_four(Pack (&x)[4]) {
  const auto ab_low = __builtin_shufflevector(x[0].v, x[1].v, 0, 4, 2, 6), ab_high = __builtin_shufflevector(x[0].v, x[1].v, 1, 5, 3, 7);
  const auto cd_low = __builtin_shufflevector(x[2].v, x[3].v, 0, 4, 2, 6), cd_high = __builtin_shufflevector(x[2].v, x[3].v, 1, 5, 3, 7);
  x[0] = Pack(__builtin_shufflevector(ab_low, cd_low, 0, 1, 4, 5));
  x[1] = Pack(__builtin_shufflevector(ab_high, cd_high, 0, 1, 4, 5));
  x[2] = Pack(__builtin_shufflevector(ab_low, cd_low, 2, 3, 6, 7));
  x[3] = Pack(__builtin_shufflevector(ab_high, cd_high, 2, 3, 6, 7));
}
ARMWRIGHT_INLINE void transpose(Lanes (&x)[4]) { transpose_four(x); }

/// Four values of each lane, stored as a run of four in each row: out[k * stride + 0..3] = lane k of a, b, c, d.
template <class Pack>
ARMWRIGHT_INLINE void store_quad_of_four(Pack a, Pack b, Pack c, Pack d, double* out, std::size_t stride) {
  Pack rows[4] = {a, b, c, d};
  transpose_four(rows);
  for (std::size_t k = 0; k < 4; ++k) store_run(rows[k], out + k * stride);
}
ARMWRIGHT_INLINE void store_quad(Lanes a, Lanes b, Lanes c, Lanes d, double* out, std::size_t stride) { store_quad_of_four(a, b, c, d, out, stride); }
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
