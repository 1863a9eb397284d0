#include "armwright/kinematics/inverse/circle_roots.hpp"

#include <algorithm>
#include <cmath>

namespace armwright {

namespace {

// Highest power first: a[0] x^n + ... + a[n].
template <std::size_t N>
double value_of(const std::array<double, N>& a, double x) {
  double sum = a[0];
  for (std::size_t i = 1; i < N; ++i) sum = sum * x + a[i];
  return sum;
}

struct RealRoots {
  int count = 0;
  std::array<double, 5> x{};
  void add(double value) { x[static_cast<std::size_t>(count++)] = value; }
};

// A sign change in [low, high]: Newton steps, kept inside by halving.
template <std::size_t N>
double bracketed_root(const std::array<double, N>& a, double low, double high, double f_low) {
  double x = 0.5 * (low + high);
  for (int step = 0; step < 100; ++step) {
    double f = a[0], slope = 0;
    for (std::size_t i = 1; i < N; ++i) {
      slope = slope * x + f;
      f = f * x + a[i];
    }
    if (f == 0) return x;
    ((f < 0) == (f_low < 0) ? low : high) = x;
    double next = x - f / slope;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::fabs(next - x) <= 1e-16 * std::fabs(x)) return next;
    if (!(next > low && next < high)) return next;  // the ends have met
    x = next;
  }
  return x;
}

// Real roots in [-bound, bound], by way of the places where the slope vanishes: between two of these there is one
// root or none.
template <std::size_t N>
RealRoots real_roots(const std::array<double, N>& a, double bound, double touching) {
  RealRoots roots;
  if constexpr (N == 2) {
    if (a[0] != 0 && std::fabs(a[1]) <= bound * std::fabs(a[0])) roots.add(-a[1] / a[0]);
  } else {
    std::array<double, N - 1> slope;
    for (std::size_t i = 0; i + 1 < N; ++i) slope[i] = static_cast<double>(N - 1 - i) * a[i];
    const RealRoots turning = real_roots(slope, bound, 0);
    double low = -bound, f_low = value_of(a, low);
    for (int i = 0; i <= turning.count; ++i) {
      const double high = i < turning.count ? turning.x[static_cast<std::size_t>(i)] : bound;
      const double f_high = value_of(a, high);
      const bool touches = i < turning.count && std::fabs(f_high) <= touching * (1 + high * high) * (1 + high * high);
      if ((f_low < 0) != (f_high < 0) && f_low != 0) {
        roots.add(bracketed_root(a, low, high, f_low));
      } else if (touches && (roots.count == 0 || roots.x[static_cast<std::size_t>(roots.count - 1)] != high)) {
        if (roots.count < static_cast<int>(N) - 1) roots.add(high);
      }
      low = high;
      f_low = f_high;
    }
  }
  return roots;
}

double on_circle(const CirclePolynomial& f, double c, double s) { return f.k + c * (f.c + f.cc * c + f.cs * s) + f.s * s; }

// Eight directions round the circle.
constexpr double half_root = 0.70710678118654752440;
constexpr std::array<std::array<double, 2>, 8> directions{{{1, 0}, {half_root, half_root}, {0, 1}, {-half_root, half_root},
                                                           {-1, 0}, {-half_root, -half_root}, {0, -1}, {half_root, -half_root}}};

}  // namespace

CircleRoots roots_on_circle(const CirclePolynomial& f, double touching) {
  CircleRoots result;
  const double largest =
      std::max({std::fabs(f.k), std::fabs(f.c), std::fabs(f.s), std::fabs(f.cc), std::fabs(f.cs)});
  if (!(largest > 1e-30)) {
    result.all = true;
    return result;
  }
  // Half-angle tangents measured from `middle`, so chosen that f is far from zero opposite to it: then no root is
  // near infinity.
  std::size_t opposite = 0;
  double farthest = -1;
  for (std::size_t i = 0; i < 8; ++i) {
    const double size = std::fabs(on_circle(f, directions[i][0], directions[i][1]));
    if (size > farthest) {
      farthest = size;
      opposite = i;
    }
  }
  const double cm = -directions[opposite][0], sm = -directions[opposite][1], scale = 1 / largest;
  const double middle = std::atan2(sm, cm);
  // The same polynomial in t - middle.
  const double c = scale * (f.c * cm + f.s * sm), s = scale * (f.s * cm - f.c * sm);
  const double cc = scale * (f.cc * (cm * cm - sm * sm) + 2 * f.cs * cm * sm);
  const double cs = scale * (f.cs * (cm * cm - sm * sm) - 2 * f.cc * cm * sm);
  const double k = scale * (f.k + f.cc * sm * sm - f.cs * cm * sm);
  // With x = tan(t/2): cos t = (1 - x²)/(1 + x²), sin t = 2x/(1 + x²); times (1 + x²)².
  const std::array<double, 5> quartic{k - c + cc, 2 * (s - cs), 2 * (k - cc), 2 * (s + cs), k + c + cc};
  double bound = 0;
  for (double a : quartic) bound = std::max(bound, std::fabs(a / quartic[0]));
  const RealRoots roots = real_roots(quartic, 1 + bound, touching);
  for (int i = 0; i < roots.count; ++i) {
    result.angle[static_cast<std::size_t>(result.count++)] =
        middle + 2 * std::atan(roots.x[static_cast<std::size_t>(i)]);
  }
  return result;
}

}  // namespace armwright
