#include "armwright/elements/rail_beam.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <vector>

namespace armwright {

namespace {

struct Place {
  int span;       // -1: beyond the ends
  double within;  // m from the span's left support
};

Place place_of(const RailBeam& beam, double at) {
  if (at < 0 || at > beam.spans * beam.span) return {-1, 0};
  const int span = std::min(static_cast<int>(at / beam.span), beam.spans - 1);
  return {span, at - span * beam.span};
}

// Simple beam of length l, unit load at a: deflection · E I, and moment, at x.
double simple_deflection(double l, double a, double x) {
  if (x > a) return simple_deflection(l, l - a, l - x);
  const double b = l - a;
  return b * x * (l * l - b * b - x * x) / (6 * l);
}
double simple_moment(double l, double a, double x) { return x <= a ? x * (l - a) / l : a * (l - x) / l; }

// Deflection · E I at x of a simple beam with moments at its ends.
double end_moment_deflection(double l, double left, double right, double x) {
  const double y = l - x;
  return (left * y * (l * l - y * y) + right * x * (l * l - x * x)) / (6 * l);
}

// Moments over all supports for a unit load at each place: (spans + 1, loads).
Eigen::MatrixXd support_moments(const RailBeam& beam, const Place* places, Eigen::Index count) {
  const int n = beam.spans;
  Eigen::MatrixXd three = Eigen::MatrixXd::Zero(n + 1, n + 1), right = Eigen::MatrixXd::Zero(n + 1, count);
  for (int i = 0; i <= n; ++i) {
    three(i, i) = i == 0 || i == n ? 2 : 4;
    if (i > 0) three(i, i - 1) = three(i - 1, i) = 1;
  }
  for (Eigen::Index j = 0; j < count; ++j) {
    if (places[j].span < 0) continue;
    const double l = beam.span, a = places[j].within, b = l - a;
    right(places[j].span, j) = -a * b * (l + b) / (l * l);  // the support left of the load
    right(places[j].span + 1, j) = -a * b * (l + a) / (l * l);
  }
  if (!beam.built_in) {  // no moments at the two ends
    for (const int end : {0, n}) {
      three.row(end).setZero(), right.row(end).setZero();
      three(end, end) = 1;
    }
  }
  return three.partialPivLu().solve(right);
}

}  // namespace

RailInfluence rail_influence(const RailBeam& beam, std::span<const double> places) {
  const auto count = static_cast<Eigen::Index>(places.size());
  std::vector<Place> at;
  for (const double place : places) at.push_back(place_of(beam, place));
  const Eigen::MatrixXd moments = support_moments(beam, at.data(), count);
  const double l = beam.span;
  RailInfluence out{Eigen::MatrixXd::Zero(count, count), Eigen::MatrixXd::Zero(count + beam.spans + 1, count)};
  for (Eigen::Index i = 0; i < count; ++i) {
    const auto [span, x] = at[static_cast<std::size_t>(i)];
    if (span < 0) continue;
    for (Eigen::Index j = 0; j < count; ++j) {
      const auto [other, a] = at[static_cast<std::size_t>(j)];
      if (other < 0) continue;
      const double left = moments(span, j), right = moments(span + 1, j);
      out.deflection(i, j) = end_moment_deflection(l, left, right, x);
      out.moment(i, j) = left * (l - x) / l + right * x / l;
      if (other != span) continue;
      out.deflection(i, j) += simple_deflection(l, a, x);
      out.moment(i, j) += simple_moment(l, a, x);
    }
  }
  out.deflection /= beam.stiffness;
  out.moment.bottomRows(beam.spans + 1) = moments;
  return out;
}

}  // namespace armwright
