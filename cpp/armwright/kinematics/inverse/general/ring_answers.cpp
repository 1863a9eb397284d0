#include "armwright/kinematics/inverse/general/ring_answers.hpp"

#include <cmath>

namespace armwright {

namespace {

Pose slide(double by) { return {no_rotation, {0, 0, by}}; }
Pose turn(double angle) { return {turn_z(std::cos(angle), std::sin(angle)), {0, 0, 0}}; }

// Least squares for (cos a, sin a), with c² + s² = 1 put in only by normalising; or for (a, a²).
double value_a(const RightSide& right, const std::array<double, 14>& left, bool slides, bool& lost) {
  double m11 = 0, m12 = 0, m22 = 0, r1 = 0, r2 = 0;
  for (std::size_t i = 0; i < 6; ++i) {
    const double value = left[i] - right.constant[i];
    m11 += right.cosine[i] * right.cosine[i];
    m12 += right.cosine[i] * right.sine[i];
    m22 += right.sine[i] * right.sine[i];
    r1 += right.cosine[i] * value;
    r2 += right.sine[i] * value;
  }
  if (m11 * m22 - m12 * m12 < 1e-14 * (m11 + m22) * (m11 + m22) || m11 + m22 < 1e-14) lost = true;
  if (slides) return lost ? 0 : (m22 * r1 - m12 * r2) / (m11 * m22 - m12 * m12);
  return std::atan2(m11 * r2 - m12 * r1, m22 * r1 - m12 * r2);
}

}  // namespace

double complete_ring(const Loop& labelled, const RightSide& right, std::array<double, 6>& angle, bool& lost) {
  const auto& G = labelled.link;
  const auto motion = [&](std::size_t role, double by) { return labelled.slides[role] ? slide(by) : turn(by); };
  const Pose left = G[2] * turn(angle[2]) * G[3] * motion(3, angle[3]) * G[4] * motion(4, angle[4]) * G[5];
  const auto rows = as_rows(features_of(left.position, left.rotation.z));
  const bool slides = labelled.slides[0];
  angle[0] = value_a(right, rows, slides, lost);
  const double ca = slides ? angle[0] : std::cos(angle[0]), sa = slides ? angle[0] * angle[0] : std::sin(angle[0]);
  double re = 0, im = 0;  // sum of left · conj(right), x + iy of l, p, m, n: its phase is -b
  for (std::size_t k = 0; k < 4; ++k) {
    const double x = right.constant[6 + k] + ca * right.cosine[6 + k] + sa * right.sine[6 + k];
    const double y = right.constant[10 + k] + ca * right.cosine[10 + k] + sa * right.sine[10 + k];
    re += rows[6 + k] * x + rows[10 + k] * y;
    im += rows[10 + k] * x - rows[6 + k] * y;
  }
  if (re * re + im * im < 1e-14) lost = true;
  angle[1] = -std::atan2(im, re);
  const Pose other = turn(-angle[1]) * inverse(G[1]) * motion(0, -angle[0]) * inverse(G[0]);
  const Rotation rest = transpose(left.rotation) * other.rotation;  // Rz(f)
  angle[5] = std::atan2(rest.x.y - rest.y.x, rest.x.x + rest.y.y);
  return norm(other.position - left.position) + norm(other.rotation.z - left.rotation.z);
}

}  // namespace armwright
