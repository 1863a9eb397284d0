#pragma once

#include "armwright/kinematics/inverse/packs.hpp"
#include "armwright/kinematics/inverse/pack_turns.hpp"
#include "armwright/support/compressed.hpp"

namespace armwright {

/// Answers within the limits of a pack of poses; `bits`: of its lanes, those that count.
template <class T>
ARMWRIGHT_INLINE void find_pack(const TurnBatch& batch, std::size_t row, unsigned lanes, FoundTurns& to) {
  const double* at[T::width];
  for (std::size_t k = 0; k < T::width; ++k) at[k] = batch.seen + 16 * (row + (lanes >> k & 1U ? k : 0));
  T m[12];
  load_transposed(at, m);
  const Pose3<T> X{{{m[0], m[1], m[2]}, {m[3], m[4], m[5]}, {m[6], m[7], m[8]}}, {m[9], m[10], m[11]}};
  PackTurns<T> out;
  if (batch.spherical) spherical_pack(*batch.spherical, batch.packs->joint, X, out);
  else three_parallel_pack(*batch.parallel, batch.packs->joint, X, out);
  const unsigned plain = lane_bits(out.plain) & lanes;
  for (unsigned left = plain; left != 0; left &= left - 1) to.alone[to.alone_count++] = static_cast<std::uint32_t>(row) + static_cast<std::uint32_t>(__builtin_ctz(left));
  for (std::size_t b = 0; b < PackTurns<T>::branches; ++b) {
    const unsigned bits = lane_bits(out.found[b]) & lanes & ~plain;
    if (bits == 0) continue;
    double* turn = to.turn + to.count;
    for (const Turn<T>& each : out.turn[b]) {
      store_compressed(each.s, bits, turn), store_compressed(each.c, bits, turn + to.room);
      turn += 2 * to.room;
    }
    for (unsigned left = bits; left != 0; left &= left - 1) to.of[to.count++] = static_cast<std::uint32_t>(row) + static_cast<std::uint32_t>(__builtin_ctz(left));
  }
}

template <class T>
ARMWRIGHT_INLINE void find_in_packs(const TurnBatch& batch, FoundTurns& to) {
  for (std::size_t row = 0; row < batch.rows; row += T::width) {
    const std::size_t left = batch.rows - row;
    find_pack<T>(batch, row, (1U << (left < T::width ? left : T::width)) - 1, to);
  }
}

}  // namespace armwright
