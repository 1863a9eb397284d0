#pragma once

#include <array>
#include <cstddef>

#include "armwright/kinematics/inverse/general/elimination.hpp"

namespace armwright {

/// The six equations A [u^i v^j] = 0 and the same six times u are twelve equations in the twelve terms u^i v^j,
/// i = 0..3, j = 0..2: they have a common answer only where the determinant of
///   | A0 A1 A2 0  |
///   | 0  A0 A1 A2 |       (Ai: the 6x3 block of u^i)
/// vanishes (Raghavan and Roth). Clearing A0 from the upper half and A2 from the lower leaves six by six.

/// That determinant at angle c, up to a factor that is the same for every c. As a function of c it is a trigonometric
/// polynomial of degree 8: both e^{ic} and e^{-ic} come with a matrix of rank 8.
double resultant(const Sigma& sigma, double cosine, double sine);

/// The same at many angles, several at once: equal to rounding.
void resultants(const Sigma& sigma, const double* cosine, const double* sine, std::size_t count, double* out);

/// d' = 2 arctan u, e' = 2 arctan v of the common answers at angle c. More than one where the null space has more
/// dimensions, as for answers that share c. `gap`: how small the second pivot from the end is to the largest; a small
/// value tells of such a null space.
struct PairAngles {
  double d, e;
};
struct NullAnswers {
  int count = 0;
  std::array<PairAngles, 3> answer;
  double gap = 1;
};
NullAnswers null_answers(const Sigma& sigma, double cosine, double sine);

}  // namespace armwright
