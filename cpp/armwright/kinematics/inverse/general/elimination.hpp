#pragma once

#include <array>
#include <complex>

#include "armwright/kinematics/inverse/general/line_features.hpp"
#include "armwright/kinematics/inverse/general/loop.hpp"

namespace armwright {

/// Elimination of two joints from the closure of a ring of six revolute axes.
/// Sources (from memory): M. Raghavan, B. Roth, "Inverse kinematics of the general 6R manipulator and related
/// linkages", ASME J. Mech. Des. 115 (1993), and their 1990 paper; D. Manocha, J. F. Canny, "Efficient inverse
/// kinematics for general 6R manipulators", IEEE Trans. RA 10 (1994).
///
/// Roles a b c d e f (see Labelling). The closure, cut between b and c and after f:
///   G2 Rz(c) G3 Rz(d) G4 Rz(e) G5 · (axis f) = Rz(-b) G1⁻¹ Rz(-a) G0⁻¹ · (axis f).
/// The fourteen features of both sides are equal. With u = tan(d/2), v = tan(e/2), times (1+u²)(1+v²):
///   left = P [1 cos c sin c] ⊗ [1 u u²] ⊗ [1 v v²].
/// Six of the right sides do not know b and are linear in (cos a, sin a); the other eight are four complex numbers
/// e^{-ib} (y0 + y1 cos a + y2 sin a). So two small orthogonal reductions, 6x2 real and 4x3 complex, leave six
/// equations without a and b. A prismatic joint at d or e enters with u or v the displacement itself, without the
/// factor (1+u²); at a, with a and a² for cos a and sin a.

using NineTerms = std::array<double, 9>;              ///< coefficients of u^i v^j at 3 i + j
using LeftRow = std::array<NineTerms, 3>;             ///< for 1, cos c, sin c
using LeftTensor = std::array<LeftRow, 14>;           ///< rows as as_rows() orders them

/// Turned (or slid) into the links after joints d and e first, so that no answer lies at u or v infinite for special targets.
struct Offsets {
  double d = 0.7381, e = -1.1632;  // rad, or unit lengths; no meaning but to be no multiple of anything
};

LeftTensor left_tensor(const Loop& labelled, const Offsets& offsets);

struct RightSide {
  std::array<double, 14> constant, cosine, sine;  ///< y0, y1, y2 (if a slides: of a and a²)
};
RightSide right_side(const Loop& labelled);

/// Sigma(c) = one + cos c · cosine + sin c · sine: six equations in nine terms.
struct Sigma {
  std::array<NineTerms, 6> one, cosine, sine;
};
/// `slides`: by role.
Sigma eliminate(const LeftTensor& left, const RightSide& right, const std::array<bool, 6>& slides);

}  // namespace armwright
