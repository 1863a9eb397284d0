#pragma once

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <limits>

#include "armwright/kinematics/inverse/polish.hpp"
#include "armwright/kinematics/inverse/spherical_pack.hpp"
#include "armwright/kinematics/inverse/three_parallel_pack.hpp"
#include "armwright/support/transposed.hpp"
#include "armwright/support/with_lanes.hpp"

#if defined(__SSE2__)
#include <emmintrin.h>
#endif

namespace armwright {

/// What packs of poses need of a closed form: X = before · target · after, of the inverse of the target where mirrored; and
/// the joints, in the closed form's order.
struct PackSetup {
  bool mirrored = false;
  Pose before, after;
  ClosedJoint joint[6];
};

struct BatchArm;

/// Where the answers of a batch go: of target t, answers at t · stride and on, most_solutions() of them; joint_count numbers
/// each in `q`. As solve_batch() tells them.
struct BatchAnswers {
  std::size_t stride;
  double* q;
  std::uint8_t* valid;
  std::int8_t* free_joint;
};

/// The poses of a batch, for an arm that packs serve.
struct PackBatch {
  const BatchArm* arm;
  const PackSetup* packs;
  const SphericalSetup* spherical;  ///< or none, and `parallel` is meant
  const ThreeParallelSetup* parallel;
  const double* held;  ///< values of the redundant joints, which stand first
  std::size_t held_count;
  bool held_within, within_limits;
  const double* targets;  ///< rows × 16
  std::size_t rows;
  BatchAnswers to;
};

/// What is found of the poses of a batch: answers within the joint limits, in rows of their own. Those of one pose stand in order.
struct FoundTurns {
  double* turn;  ///< sine and cosine of what the step of each of the arm's six joints turns by: 12 runs, `room` numbers apart
  std::size_t room;
  std::uint32_t* of;  ///< which pose a row answers
  std::uint32_t* alone;  ///< poses that are to be solved alone
  std::size_t count = 0, alone_count = 0;
};

/// `seen`: rows × 16: axes x, y, z and origin of a pose X as the closed form sees it; the last four numbers are not read.
struct TurnBatch {
  const PackSetup* packs;
  const SphericalSetup* spherical;  ///< or none, and `parallel` is meant
  const ThreeParallelSetup* parallel;
  const double* seen;
  std::size_t rows;
};

/// The answers of one row by solve_arm().
void solve_alone(const PackBatch& batch, std::size_t row);

inline constexpr std::size_t pack_branches = 8;
inline constexpr unsigned alone = 1 << 16;  ///< beside PackAnswers::marks: the pose is to be solved alone

ARMWRIGHT_INLINE void fill_with_none(double* from, double* to) {
  while (from != to) *from++ = std::numeric_limits<double>::quiet_NaN();
}

// Stored past the cache: who writes more than it holds need not fetch first what he writes over.
#if ARMWRIGHT_INSTRUCTION_SETS
ARMWRIGHT_INLINE void store_past(Eight value, double* to) { __builtin_ia32_movntpd512(to, value.v); }
ARMWRIGHT_INLINE void store_past(Four value, double* to) { __builtin_ia32_movntpd256(to, value.v); }
#endif
ARMWRIGHT_INLINE void store_past(Lanes value, double* to) {
#if defined(__SSE2__)
  for (std::size_t i = 0; i < Lanes::width; i += 2) _mm_stream_pd(to + i, _mm_set_pd(value[i + 1], value[i]));
#else
  store_run(value, to);
#endif
}
ARMWRIGHT_INLINE void stores_past_done() {
#if defined(__SSE2__)
  _mm_sfence();
#endif
}

/// Lines of the cache, past it where `past` is set. Both places on lines then.
template <class T>
ARMWRIGHT_INLINE void copy_lines(const double* from, double* to, std::size_t lines, bool past) {
  if (!past) {
    std::memcpy(to, from, 64 * lines);
    return;
  }
  for (std::size_t i = 0; i < 8 * lines; i += T::width) store_past(load_run<T>(from + i), to + i);
}

/// The answers of one pose, told branch by branch as six numbers each, without gaps where they belong. `told` is drawn
/// together in place on the way.
template <class T>
ARMWRIGHT_INLINE void write_told(double* told, unsigned bits, const PackBatch& batch, std::size_t row, bool past) {
  const std::size_t first = row * batch.to.stride;
  const unsigned found = bits & 0xffU, in = !batch.within_limits ? found : batch.held_within ? bits >> 8 & 0xffU : 0U;
  std::uint8_t* valid = batch.to.valid + first;
  std::memset(batch.to.free_joint + first, -1, pack_branches);
  std::memset(valid, in == 0xffU, pack_branches);
  double* const end = told + pack_branches * 6;
  if (in != 0xffU) {
    double* to = told;
    for (unsigned left = found; left != 0; left &= left - 1, to += 6, ++valid) {
      const auto b = static_cast<unsigned>(__builtin_ctz(left));
      *valid = in >> b & 1U;
      if (!*valid) fill_with_none(to, to + 6);
      else if (to != told + 6 * b) std::memcpy(to, told + 6 * b, 6 * sizeof(double));
    }
    fill_with_none(to, end);
  }
  double* q = batch.to.q + first * (6 + batch.held_count);
  if (batch.held_count == 0) return copy_lines<T>(told, q, pack_branches * 6 / 8, past);
  valid = batch.to.valid + first;
  for (const double* from = told; from != end; from += 6, ++valid) {
    for (std::size_t r = 0; r < batch.held_count; ++r) *q++ = *valid ? batch.held[r] : std::numeric_limits<double>::quiet_NaN();
    std::memcpy(q, from, 6 * sizeof(double));
    q += 6;
  }
}

/// Answers of a pack of poses to `told`; returns PackAnswers::marks with `alone`.
template <class T>
ARMWRIGHT_INLINE T solve_pack(const PackBatch& batch, const double* const (&rows)[T::width], double* told) {
  T m[12];
  load_transposed(rows, m);
  Pose3<T> target{{{m[0], m[4], m[8]}, {m[1], m[5], m[9]}, {m[2], m[6], m[10]}}, {m[3], m[7], m[11]}};
  make_square(target.rotation);
  if (batch.packs->mirrored) target = inverse(target);
  const Pose3<T> X = spread<T>(batch.packs->before) * target * spread<T>(batch.packs->after);
  PackAnswers<T> answers;
  if (batch.spherical) spherical_pack(*batch.spherical, batch.packs->joint, X, answers);
  else three_parallel_pack(*batch.parallel, batch.packs->joint, X, answers);
  store_transposed<pack_branches * 6>(&answers.q[0][0], told, pack_branches * 6);
  return answers.marks + select(answers.plain, T(alone), T(0.0));
}

template <class T>
ARMWRIGHT_INLINE void solve_in_packs(const PackBatch& batch) {
  constexpr std::size_t row_size = pack_branches * 6;
  constexpr std::size_t cached = std::size_t{1} << 20;  // bytes: answers beyond are not looked for in the cache
  alignas(64) double told[T::width * row_size];
  double bits[T::width];
  const bool on_lines = reinterpret_cast<std::uintptr_t>(batch.to.q) % 64 == 0 && batch.to.stride % pack_branches == 0;
  const bool past = on_lines && batch.held_count == 0 && batch.rows * row_size * sizeof(double) > cached;
  for (std::size_t row = 0; row < batch.rows; row += T::width) {
    const std::size_t left = batch.rows - row, here = left < T::width ? left : T::width;
    const double* at[T::width];
    for (std::size_t k = 0; k < T::width; ++k) at[k] = batch.targets + 16 * (row + (k < here ? k : here - 1));
    store_run(solve_pack<T>(batch, at, told), bits);
    for (std::size_t k = 0; k < here; ++k) {
      const auto its = static_cast<unsigned>(static_cast<int>(bits[k]));
      if (its & alone) solve_alone(batch, row + k);
      else write_told<T>(told + k * row_size, its, batch, row + k, past);
    }
  }
  if (past) stores_past_done();
}

}  // namespace armwright
