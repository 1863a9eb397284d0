#pragma once

#include <array>

namespace armwright {

/// A straight even beam from its near end along x. Bending about y bends it in z. Infinity: rigid against that.
struct Beam {
  double length = 0;                        ///< m
  double along = 0;                         ///< E A, N
  double bending_y = 0, bending_z = 0;      ///< E I about y and about z, N m²
  double torsion = 0;                       ///< G I_t, N m²
  double shear_y = 0, shear_z = 0;          ///< G A of the shear area for forces along y and z, N; infinity: no shear
};

/// Row-major 6 × 6: shift along x, y, z (m), then turn about them (rad).
using SixBySix = std::array<double, 36>;

/// How the beam's far end gives way to a force (N) and a moment (N m) there, its near end held: Timoshenko's cantilever,
/// F L³/3EI + F L/GA and so on; small deflections, linear material, cross-sections that may warp freely. Symmetric.
SixBySix beam_compliance(const Beam& beam);

/// How the beam's axis at `station` (0 near end, 1 far end) moves with its far end, where loads act at the far end only: the
/// displacements there, as multiples of the six at the far end. Exact for end loads; as the shape of a vibrating beam it
/// is the usual consistent one (Przemieniecki, Theory of Matrix Structural Analysis, memory).
SixBySix beam_shape(const Beam& beam, double station);

/// Lower triangular root B of a compliance, C = B Bᵀ; rows and columns of nothing stay nothing.
SixBySix root_of(const SixBySix& compliance);

}  // namespace armwright
