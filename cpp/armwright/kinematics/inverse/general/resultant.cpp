#include "armwright/kinematics/inverse/general/resultant.hpp"

#include <cmath>
#include <utility>

#include "armwright/support/lanes.hpp"

namespace armwright {

namespace {

// The sums run in lanes as they do in doubles, several angles at once; rows are exchanged lane by lane.

template <class T>
ARMWRIGHT_INLINE void at_angle(const Sigma& sigma, T cosine, T sine, T (&A)[6][9]) {
  for (std::size_t i = 0; i < 6; ++i) {
    for (std::size_t t = 0; t < 9; ++t) A[i][t] = T(sigma.one[i][t]) + cosine * T(sigma.cosine[i][t]) + sine * T(sigma.sine[i][t]);
  }
}

// Brings the row with the largest number in a column to the place `k`; `sign` turns with every exchange. `from` to `to`, and
// `also` to `end`: the columns that are still of use.
template <class T, std::size_t Columns>
ARMWRIGHT_INLINE void exchange_rows(T (&A)[6][Columns], std::size_t k, std::size_t from, std::size_t to, std::size_t also, std::size_t end, T& sign) {
  for (std::size_t i = k + 1; i < 6; ++i) {
    const auto larger = absolute(A[i][from]) > absolute(A[k][from]);
    const auto exchange = [&](std::size_t j) ARMWRIGHT_INLINE_LAMBDA {
      const T x = A[k][j], y = A[i][j];
      A[k][j] = select(larger, y, x);
      A[i][j] = select(larger, x, y);
    };
    for (std::size_t j = from; j < to; ++j) exchange(j);
    for (std::size_t j = also; j < end; ++j) exchange(j);
    sign = select(larger, -sign, sign);
  }
}

// Gauss on three columns from `First`; the three pivot rows come first. Returns the product of the pivots, signed by
// the exchanges. Columns of the pivot rows are of no more use and are left as they are.
template <std::size_t First, class T>
ARMWRIGHT_INLINE T clear_block(T (&A)[6][9]) {
  constexpr std::size_t kept = First == 0 ? 3 : 0;  // the six columns that stay
  T product(1.0);
  for (std::size_t k = 0; k < 3; ++k) {
    exchange_rows(A, k, First + k, First + 3, kept, kept + 6, product);
    const T p = A[k][First + k];
    product = product * p;
    const T inverse_pivot = T(1.0) / select(absolute(p) > T(0.0), p, T(1.0));  // none: the whole column is none
    for (std::size_t i = k + 1; i < 6; ++i) {
      const T factor = A[i][First + k] * inverse_pivot;
      for (std::size_t j = k + 1; j < 3; ++j) A[i][First + j] = A[i][First + j] - factor * A[k][First + j];
      for (std::size_t j = kept; j < kept + 6; ++j) A[i][j] = A[i][j] - factor * A[k][j];
    }
  }
  return product;
}

// The six by six on (u m, u² m), m = (1, v, v²), and the factor that was cleared.
template <class T>
ARMWRIGHT_INLINE T reduce(const Sigma& sigma, T cosine, T sine, T (&B)[6][6]) {
  T A[6][9];
  at_angle(sigma, cosine, sine, A);
  T lower[6][9];
  for (std::size_t i = 0; i < 6; ++i)
    for (std::size_t t = 0; t < 9; ++t) lower[i][t] = A[i][t];
  const T product = clear_block<0>(A) * clear_block<6>(lower);
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 6; ++j) {
      B[i][j] = A[3 + i][3 + j];
      B[3 + i][j] = lower[3 + i][j];
    }
  }
  return product;
}

template <class T>
ARMWRIGHT_INLINE T determinant(T (&B)[6][6]) {
  T product(1.0);
  for (std::size_t k = 0; k < 6; ++k) {
    exchange_rows(B, k, k, 6, 6, 6, product);
    const T p = B[k][k];
    product = product * p;
    const T inverse_pivot = T(1.0) / select(absolute(p) > T(0.0), p, T(1.0));
    for (std::size_t i = k + 1; i < 6; ++i) {
      const T factor = B[i][k] * inverse_pivot;
      for (std::size_t j = k + 1; j < 6; ++j) B[i][j] = B[i][j] - factor * B[k][j];
    }
  }
  return product;
}

template <class T>
ARMWRIGHT_INLINE T resultant_of(const Sigma& sigma, T cosine, T sine) {
  T B[6][6];
  const T product = reduce(sigma, cosine, sine, B);
  return product * determinant(B);
}

// Angles from a vector (u m, u² m).
PairAngles angles_of(const std::array<double, 6>& x) {
  double low = 0, high = 0, mixed = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    low += x[i] * x[i];
    high += x[3 + i] * x[3 + i];
    mixed += x[i] * x[3 + i];
  }
  PairAngles angles;
  angles.d = high > low ? 2 * std::atan2(high, mixed) : 2 * std::atan2(mixed, low);
  const std::size_t from = high > low ? 3 : 0;
  const double a = x[from], b = x[from + 1], c = x[from + 2];
  angles.e = std::fabs(a) > std::fabs(c) ? 2 * std::atan2(b, a) : 2 * std::atan2(c, b);
  return angles;
}

// Vectors x = s x1 + t x2 of a null space of two dimensions whose halves are parallel: (N1 - u N0)(s, t) = 0 with
// N0, N1 the halves; by least squares, N0ᵀ(N1 - u N0).
void from_two(const std::array<double, 6>& x1, const std::array<double, 6>& x2, NullAnswers& out) {
  double m11 = 0, m12 = 0, m22 = 0, w11 = 0, w12 = 0, w21 = 0, w22 = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    m11 += x1[i] * x1[i];
    m12 += x1[i] * x2[i];
    m22 += x2[i] * x2[i];
    w11 += x1[i] * x1[i + 3];
    w12 += x1[i] * x2[i + 3];
    w21 += x2[i] * x1[i + 3];
    w22 += x2[i] * x2[i + 3];
  }
  const double a = m11 * m22 - m12 * m12;
  const double b = -(w11 * m22 + w22 * m11 - (w12 + w21) * m12);
  const double c = w11 * w22 - w12 * w21;
  double root = b * b - 4 * a * c;
  if (root < 0) root = 0;
  const double q = -0.5 * (b + (b < 0 ? -1 : 1) * std::sqrt(root));
  const double numerator[2] = {q, c}, denominator[2] = {a, q};
  for (int k = 0; k < 2; ++k) {
    const double n = numerator[k], d = denominator[k];
    // (d W - n M)(s, t) = 0: take the larger row.
    const double r11 = d * w11 - n * m11, r12 = d * w12 - n * m12, r21 = d * w21 - n * m12, r22 = d * w22 - n * m22;
    const bool upper = r11 * r11 + r12 * r12 > r21 * r21 + r22 * r22;
    const double s = upper ? -r12 : -r22, t = upper ? r11 : r21;
    const double length = std::sqrt(s * s + t * t);
    if (!(length > 0)) continue;
    std::array<double, 6> x;
    for (std::size_t i = 0; i < 6; ++i) x[i] = (s * x1[i] + t * x2[i]) / length;
    out.answer[static_cast<std::size_t>(out.count++)] = angles_of(x);
  }
}

constexpr double shared_gap = 1e-3;  // below, the null space is also taken for one of two dimensions

}  // namespace

double resultant(const Sigma& sigma, double cosine, double sine) { return resultant_of(sigma, cosine, sine); }

ARMWRIGHT_BATCH void resultants(const Sigma& sigma, const double* cosine, const double* sine, std::size_t count, double* out) {
  for (std::size_t first = 0; first < count; first += Lanes::width) {
    Lanes c(1.0), s(0.0);
    for (std::size_t k = 0; k < Lanes::width && first + k < count; ++k) {
      c.set(k, cosine[first + k]);
      s.set(k, sine[first + k]);
    }
    const Lanes value = resultant_of(sigma, c, s);
    for (std::size_t k = 0; k < Lanes::width && first + k < count; ++k) out[first + k] = value[k];
  }
}

NullAnswers null_answers(const Sigma& sigma, double cosine, double sine) {
  double B[6][6];
  reduce(sigma, cosine, sine, B);
  for (auto& row : B) {
    double largest = 0;
    for (double x : row) largest = std::fmax(largest, std::fabs(x));
    if (largest > 0) {
      for (double& x : row) x /= largest;
    }
  }
  std::array<std::size_t, 6> order{0, 1, 2, 3, 4, 5};
  for (std::size_t k = 0; k < 5; ++k) {
    std::size_t pi = k, pj = k;
    for (std::size_t i = k; i < 6; ++i) {
      for (std::size_t j = k; j < 6; ++j) {
        if (std::fabs(B[i][j]) > std::fabs(B[pi][pj])) pi = i, pj = j;
      }
    }
    std::swap(B[k], B[pi]);
    if (pj != k) {
      for (auto& row : B) std::swap(row[k], row[pj]);
      std::swap(order[k], order[pj]);
    }
    if (B[k][k] == 0) break;
    for (std::size_t i = k + 1; i < 6; ++i) {
      const double factor = B[i][k] / B[k][k];
      for (std::size_t j = k + 1; j < 6; ++j) B[i][j] -= factor * B[k][j];
    }
  }
  NullAnswers out;
  out.gap = B[0][0] != 0 ? std::fabs(B[4][4] / B[0][0]) : 0;
  // The vector of free column `free`, with the pivots above it.
  const auto null_vector = [&](std::size_t free) {
    std::array<double, 6> z{}, x{};
    z[free] = 1;
    const std::size_t top = free == 5 && B[4][4] != 0 && out.gap > 1e-14 ? 5 : 4;
    for (std::size_t k = top; k-- > 0;) {
      double sum = 0;
      for (std::size_t j = k + 1; j < 6; ++j) sum += B[k][j] * z[j];
      z[k] = B[k][k] != 0 ? -sum / B[k][k] : 0;
    }
    double length = 0;
    for (double value : z) length += value * value;
    length = std::sqrt(length);
    for (std::size_t k = 0; k < 6; ++k) x[order[k]] = z[k] / length;
    return x;
  };
  const auto x1 = null_vector(5);
  out.answer[0] = angles_of(x1);
  out.count = 1;
  if (out.gap < shared_gap) from_two(x1, null_vector(4), out);
  return out;
}

}  // namespace armwright
