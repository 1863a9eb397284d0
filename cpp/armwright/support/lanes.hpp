#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>

// Kernels are templates on a scalar type T that is either double (one posture) or Lanes (four postures side by
// side). Every operation here exists for both, so that one derivation serves both.

#define ARMWRIGHT_INLINE [[gnu::always_inline]] inline

// A batch function marked so is compiled for the plain instruction set and for one with four double lanes and fused
// multiply-add; the loader picks. Everything it calls must be inline.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define ARMWRIGHT_BATCH __attribute__((target_clones("arch=x86-64-v3", "default"), flatten))
#else
#define ARMWRIGHT_BATCH
#endif

/// For lambdas called from such functions.
#define ARMWRIGHT_INLINE_LAMBDA __attribute__((always_inline))

namespace armwright {

// Without AVX a compiler aligns such a vector to 16 bytes, with it to 32 and counts on that; what is stored by one kind of
// code and read by the other needs the larger, everywhere.
struct alignas(32) Mask {
  using Vector = std::int64_t __attribute__((vector_size(32)));
  Vector v;
};

struct alignas(32) Lanes {
  static constexpr std::size_t width = 4;
  using Vector = double __attribute__((vector_size(32)));
  Vector v;

  Lanes() = default;
  ARMWRIGHT_INLINE Lanes(double x) : v{x, x, x, x} {}  // NOLINT: a constant is the same in every lane
  ARMWRIGHT_INLINE explicit Lanes(Vector x) : v(x) {}
  ARMWRIGHT_INLINE double operator[](std::size_t i) const { return v[i]; }
  ARMWRIGHT_INLINE void set(std::size_t i, double x) { v[i] = x; }
  ARMWRIGHT_INLINE Lanes& operator+=(Lanes b) { v += b.v; return *this; }
  ARMWRIGHT_INLINE Lanes& operator-=(Lanes b) { v -= b.v; return *this; }
  ARMWRIGHT_INLINE Lanes& operator*=(Lanes b) { v *= b.v; return *this; }
};

ARMWRIGHT_INLINE Lanes operator+(Lanes a, Lanes b) { return Lanes(a.v + b.v); }
ARMWRIGHT_INLINE Lanes operator-(Lanes a, Lanes b) { return Lanes(a.v - b.v); }
ARMWRIGHT_INLINE Lanes operator*(Lanes a, Lanes b) { return Lanes(a.v * b.v); }
ARMWRIGHT_INLINE Lanes operator/(Lanes a, Lanes b) { return Lanes(a.v / b.v); }
ARMWRIGHT_INLINE Lanes operator-(Lanes a) { return Lanes(-a.v); }
ARMWRIGHT_INLINE Mask operator<(Lanes a, Lanes b) { return {a.v < b.v}; }
ARMWRIGHT_INLINE Mask operator>(Lanes a, Lanes b) { return {a.v > b.v}; }
ARMWRIGHT_INLINE Mask operator<=(Lanes a, Lanes b) { return {a.v <= b.v}; }
ARMWRIGHT_INLINE Mask operator>=(Lanes a, Lanes b) { return {a.v >= b.v}; }
ARMWRIGHT_INLINE Mask operator&(Mask a, Mask b) { return {a.v & b.v}; }
ARMWRIGHT_INLINE Mask operator|(Mask a, Mask b) { return {a.v | b.v}; }
ARMWRIGHT_INLINE Mask operator!(Mask a) { return {~a.v}; }

ARMWRIGHT_INLINE Lanes select(Mask m, Lanes a, Lanes b) { return Lanes(m.v ? a.v : b.v); }
ARMWRIGHT_INLINE double select(bool m, double a, double b) { return m ? a : b; }
ARMWRIGHT_INLINE bool any(Mask m) { return (m.v[0] | m.v[1] | m.v[2] | m.v[3]) != 0; }
ARMWRIGHT_INLINE bool any(bool m) { return m; }
ARMWRIGHT_INLINE bool all(Mask m) { return (m.v[0] & m.v[1] & m.v[2] & m.v[3]) != 0; }
ARMWRIGHT_INLINE bool all(bool m) { return m; }
ARMWRIGHT_INLINE bool lane(Mask m, std::size_t i) { return m.v[i] != 0; }
ARMWRIGHT_INLINE bool lane(bool m, std::size_t) { return m; }

template <class T>
inline constexpr std::size_t width_of = 1;
template <>
inline constexpr std::size_t width_of<Lanes> = Lanes::width;

ARMWRIGHT_INLINE double lane(double x, std::size_t) { return x; }
ARMWRIGHT_INLINE double lane(Lanes x, std::size_t i) { return x[i]; }
ARMWRIGHT_INLINE void set_lane(double& x, std::size_t, double value) { x = value; }
ARMWRIGHT_INLINE void set_lane(Lanes& x, std::size_t i, double value) { x.set(i, value); }

ARMWRIGHT_INLINE double minimum(double a, double b) { return a < b ? a : b; }
ARMWRIGHT_INLINE double maximum(double a, double b) { return a > b ? a : b; }
ARMWRIGHT_INLINE Lanes minimum(Lanes a, Lanes b) { return select(a < b, a, b); }
ARMWRIGHT_INLINE Lanes maximum(Lanes a, Lanes b) { return select(a > b, a, b); }
ARMWRIGHT_INLINE double absolute(double a) { return std::fabs(a); }
ARMWRIGHT_INLINE Lanes absolute(Lanes a) {
  const Mask::Vector bits = (Mask::Vector)a.v & INT64_C(0x7fffffffffffffff);
  return Lanes((Lanes::Vector)bits);
}
ARMWRIGHT_INLINE double square_root(double a) { return std::sqrt(a); }
ARMWRIGHT_INLINE Lanes square_root(Lanes a) {
  Lanes r;
  for (std::size_t i = 0; i < Lanes::width; ++i) r.v[i] = __builtin_sqrt(a.v[i]);
  return r;
}

/// Four values of four rows, stored as a run of four in each row: out[k * stride + 0..3] = lane k of a, b, c, d.
ARMWRIGHT_INLINE void store_quad(Lanes a, Lanes b, Lanes c, Lanes d, double* out, std::size_t stride) {
  const auto ab_low = __builtin_shufflevector(a.v, b.v, 0, 4, 2, 6), ab_high = __builtin_shufflevector(a.v, b.v, 1, 5, 3, 7);
  const auto cd_low = __builtin_shufflevector(c.v, d.v, 0, 4, 2, 6), cd_high = __builtin_shufflevector(c.v, d.v, 1, 5, 3, 7);
  const Lanes::Vector rows[4] = {
      __builtin_shufflevector(ab_low, cd_low, 0, 1, 4, 5), __builtin_shufflevector(ab_high, cd_high, 0, 1, 4, 5),
      __builtin_shufflevector(ab_low, cd_low, 2, 3, 6, 7), __builtin_shufflevector(ab_high, cd_high, 2, 3, 6, 7)};
  for (std::size_t k = 0; k < 4; ++k) __builtin_memcpy(out + k * stride, &rows[k], sizeof(rows[k]));
}
/// The same for one row.
ARMWRIGHT_INLINE void store_quad(double a, double b, double c, double d, double* out, std::size_t) {
  out[0] = a;
  out[1] = b;
  out[2] = c;
  out[3] = d;
}

}  // namespace armwright
