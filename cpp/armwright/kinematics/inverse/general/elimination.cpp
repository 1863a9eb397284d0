#include "armwright/kinematics/inverse/general/elimination.hpp"

#include <cmath>

namespace armwright {

namespace {

using Complex = std::complex<double>;

// The joint moved by a constant, put into the link after it.
Pose moved(bool slides, double by, const Pose& X) {
  return (slides ? Pose{no_rotation, {0, 0, by}} : Pose{turn_z(std::cos(by), std::sin(by)), {0, 0, 0}}) * X;
}
std::array<LineFeatures, 3> parts_of(bool slides, const LineFeatures& f) { return slides ? slid_parts(f) : turned_parts(f); }

// Coefficients of 1, cos, sin, times (1 + u²), in powers of u = tan(angle/2); and of 1, v, v² in powers of v.
constexpr double half_angle[3][3] = {{1, 0, 1}, {1, 0, -1}, {0, 2, 0}};
constexpr double unchanged[3][3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};

// Householder vectors that bring the 6x2 matrix to a triangle: H = 1 - v vᵀ each.
struct Reflections {
  std::array<std::array<double, 6>, 2> v;
};

std::array<double, 6> reflection(const std::array<double, 6>& x, std::size_t first) {
  std::array<double, 6> v{};
  double square = 0;
  for (std::size_t i = first; i < 6; ++i) square += x[i] * x[i];
  const double length = std::sqrt(square);
  if (length < 1e-300) return v;
  for (std::size_t i = first; i < 6; ++i) v[i] = x[i];
  v[first] += x[first] < 0 ? -length : length;
  const double scale = 1 / std::sqrt(length * (length + std::fabs(x[first])));
  for (std::size_t i = first; i < 6; ++i) v[i] *= scale;
  return v;
}

void reflect(const std::array<double, 6>& v, std::array<double, 6>& x) {
  double sum = 0;
  for (std::size_t i = 0; i < 6; ++i) sum += v[i] * x[i];
  for (std::size_t i = 0; i < 6; ++i) x[i] -= sum * v[i];
}

// Four orthonormal rows that vanish on (cos a, sin a).
std::array<std::array<double, 6>, 4> real_annihilator(const RightSide& right) {
  std::array<double, 6> first, second;
  for (std::size_t i = 0; i < 6; ++i) {
    first[i] = right.cosine[i];
    second[i] = right.sine[i];
  }
  const auto v0 = reflection(first, 0);
  reflect(v0, second);
  const auto v1 = reflection(second, 1);
  std::array<std::array<double, 6>, 4> rows{};
  for (std::size_t k = 0; k < 4; ++k) {
    rows[k][k + 2] = 1;
    reflect(v1, rows[k]);
    reflect(v0, rows[k]);
  }
  return rows;
}

// One unit row w with w·y0 = w·y1 = w·y2 = 0 (no conjugation): the last row of Qᴴ of the 4x3 matrix [y0 y1 y2].
std::array<Complex, 4> complex_annihilator(const RightSide& right) {
  std::array<std::array<Complex, 4>, 3> column;
  for (std::size_t i = 0; i < 4; ++i) {
    column[0][i] = {right.constant[6 + i], right.constant[10 + i]};
    column[1][i] = {right.cosine[6 + i], right.cosine[10 + i]};
    column[2][i] = {right.sine[6 + i], right.sine[10 + i]};
  }
  std::array<std::array<Complex, 4>, 3> v{};
  for (std::size_t k = 0; k < 3; ++k) {
    double square = 0;
    for (std::size_t i = k; i < 4; ++i) square += std::norm(column[k][i]);
    const double length = std::sqrt(square);
    if (length < 1e-300) continue;
    const double size = std::abs(column[k][k]);
    const Complex phase = size > 0 ? column[k][k] / size : Complex(1, 0);
    for (std::size_t i = k; i < 4; ++i) v[k][i] = column[k][i];
    v[k][k] += phase * length;
    const double scale = 1 / std::sqrt(length * (length + size));
    for (std::size_t i = k; i < 4; ++i) v[k][i] *= scale;
    for (std::size_t j = k + 1; j < 3; ++j) {
      Complex sum = 0;
      for (std::size_t i = k; i < 4; ++i) sum += std::conj(v[k][i]) * column[j][i];
      for (std::size_t i = k; i < 4; ++i) column[j][i] -= sum * v[k][i];
    }
  }
  std::array<Complex, 4> w{Complex(0), Complex(0), Complex(0), Complex(1)};  // row times H2 H1 H0
  for (std::size_t k = 3; k-- > 0;) {
    Complex sum = 0;
    for (std::size_t i = k; i < 4; ++i) sum += w[i] * v[k][i];
    for (std::size_t i = k; i < 4; ++i) w[i] -= sum * std::conj(v[k][i]);
  }
  return w;
}

// A constant on the right, times (1+u²)(1+v²), without the factor of a joint that slides.
void subtract_constant(NineTerms& terms, double value, bool d_slides, bool e_slides) {
  terms[0] -= value;
  if (!e_slides) terms[2] -= value;
  if (!d_slides) terms[6] -= value;
  if (!d_slides && !e_slides) terms[8] -= value;
}

}  // namespace

LeftTensor left_tensor(const Loop& labelled, const Offsets& offsets) {
  // Rz(d) = Rz(d') Rz(offset): the offset goes into the next link.
  const bool d_slides = labelled.slides[3], e_slides = labelled.slides[4];
  const Pose G4 = moved(d_slides, offsets.d, labelled.link[4]), G5 = moved(e_slides, offsets.e, labelled.link[5]);
  const auto& of_d = d_slides ? unchanged : half_angle;
  const auto& of_e = e_slides ? unchanged : half_angle;
  LeftTensor P{};
  const auto in_e = parts_of(e_slides, G5 * own_axis());
  for (std::size_t e = 0; e < 3; ++e) {
    const auto in_d = parts_of(d_slides, G4 * in_e[e]);
    for (std::size_t d = 0; d < 3; ++d) {
      const auto in_c = turned_parts(labelled.link[3] * in_d[d]);
      for (std::size_t c = 0; c < 3; ++c) {
        const auto rows = as_rows(labelled.link[2] * in_c[c]);
        for (std::size_t i = 0; i < 3; ++i) {
          for (std::size_t j = 0; j < 3; ++j) {
            const double weight = of_d[d][i] * of_e[e][j];
            if (weight == 0) continue;
            for (std::size_t r = 0; r < 14; ++r) P[r][c][3 * i + j] += weight * rows[r];
          }
        }
      }
    }
  }
  return P;
}

RightSide right_side(const Loop& labelled) {
  const LineFeatures g = inverse(labelled.link[0]) * own_axis();
  const bool slides = labelled.slides[0];
  const auto parts = parts_of(slides, g);
  const Pose back = inverse(labelled.link[1]);
  RightSide right;
  right.constant = as_rows(back * parts[0]);
  right.cosine = as_rows(back * parts[1]);
  right.sine = as_rows(back * parts[2]);
  for (double& x : slides ? right.cosine : right.sine) x = -x;  // the motion is by -a
  return right;
}

Sigma eliminate(const LeftTensor& left, const RightSide& right, const std::array<bool, 6>& slides) {
  std::array<LeftRow, 6> sum{};
  Sigma sigma;
  const auto rows = real_annihilator(right);
  for (std::size_t k = 0; k < 4; ++k) {
    double constant = 0;
    for (std::size_t r = 0; r < 6; ++r) {
      const double weight = rows[k][r];
      constant += weight * right.constant[r];
      for (std::size_t c = 0; c < 3; ++c) {
        for (std::size_t t = 0; t < 9; ++t) sum[k][c][t] += weight * left[r][c][t];
      }
    }
    subtract_constant(sum[k][0], constant, slides[3], slides[4]);
  }
  const auto w = complex_annihilator(right);
  for (std::size_t r = 0; r < 4; ++r) {
    const double re = w[r].real(), im = w[r].imag();
    for (std::size_t c = 0; c < 3; ++c) {
      const NineTerms& x = left[6 + r][c];
      const NineTerms& y = left[10 + r][c];
      for (std::size_t t = 0; t < 9; ++t) {
        sum[4][c][t] += re * x[t] - im * y[t];
        sum[5][c][t] += re * y[t] + im * x[t];
      }
    }
  }
  for (std::size_t k = 0; k < 6; ++k) {
    double square = 0;
    for (const NineTerms& terms : sum[k]) {
      for (double x : terms) square += x * x;
    }
    const double scale = square > 0 ? 1 / std::sqrt(square) : 0;
    for (std::size_t t = 0; t < 9; ++t) {
      sigma.one[k][t] = scale * sum[k][0][t];
      sigma.cosine[k][t] = scale * sum[k][1][t];
      sigma.sine[k][t] = scale * sum[k][2][t];
    }
  }
  return sigma;
}

}  // namespace armwright
