#include "armwright/motion/corner.hpp"

#include <cmath>

namespace armwright {

// Hermite's polynomial of fifth degree on [0, 1] (textbook): value, slope and bend at both ends.
Corner corner_between(const PlacedLeg& before, const PlacedLeg& after, double offset) {
  const std::size_t n = before.from.size(), last = before.rows.rows() - 1;
  Corner corner;
  corner.offset = offset;
  corner.extent = 2 * (before.extent - before.end) * before.scale;
  const double a = corner.extent / before.scale, b = corner.extent / after.scale;
  for (std::size_t i = 0; i < n; ++i) {
    const double p0 = before.rows.q[last * n + i], v0 = a * before.rows.first[last * n + i], a0 = a * a * before.rows.second[last * n + i];
    const double p1 = after.rows.q[i], v1 = b * after.rows.first[i], a1 = b * b * after.rows.second[i];
    const double way = p1 - p0;
    const double c[6] = {p0, v0, 0.5 * a0, 10 * way - 6 * v0 - 4 * v1 - 1.5 * a0 + 0.5 * a1, -15 * way + 8 * v0 + 7 * v1 + 1.5 * a0 - a1,
                         6 * way - 3 * v0 - 3 * v1 - 0.5 * a0 + 0.5 * a1};
    corner.coefficients.insert(corner.coefficients.end(), c, c + 6);
  }
  return corner;
}

void append_corner_at(const Corner& corner, double t, std::int32_t before, std::int32_t after, PathRows& out) {
  const double each = 1 / corner.extent;
  for (std::size_t i = 0; i < out.joint_count; ++i) {
    const double* c = corner.coefficients.data() + 6 * i;
    out.q.push_back(c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * c[5])))));
    out.first.push_back(each * (c[1] + t * (2 * c[2] + t * (3 * c[3] + t * (4 * c[4] + t * 5 * c[5])))));
    out.second.push_back(each * each * (2 * c[2] + t * (6 * c[3] + t * (12 * c[4] + t * 20 * c[5]))));
  }
  out.s.push_back(corner.offset + t * corner.extent);
  out.move.push_back(t < 0.5 ? before : after);
}

void append_corner(const Corner& corner, std::int32_t before, std::int32_t after, int intervals, PathRows& out) {
  for (int k = 1; k < intervals; ++k) append_corner_at(corner, static_cast<double>(k) / intervals, before, after, out);
}

void append_scaled(const PathRows& rows, const PlacedLeg& leg, PathRows& out) {
  const std::size_t n = out.joint_count;
  const double each = 1 / leg.scale;
  for (std::size_t row = 0; row < rows.rows(); ++row) {
    out.s.push_back(leg.offset + leg.scale * (rows.s[row] - leg.begin));
    out.move.push_back(leg.leg.move);
    for (std::size_t i = 0; i < n; ++i) {
      out.q.push_back(rows.q[row * n + i]);
      out.first.push_back(each * rows.first[row * n + i]);
      out.second.push_back(each * each * rows.second[row * n + i]);
    }
  }
}

}  // namespace armwright
