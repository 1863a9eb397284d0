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

double on_circle(const CirclePolynomial& f, double t) {
  const double c = std::cos(t), s = std::sin(t);
  return f.k + c * (f.c + f.cc * c + f.cs * s) + f.s * s;
}

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
  double opposite = 0, farthest = -1;
  for (int i = 0; i < 16; ++i) {
    const double t = 0.39269908169872414 * i;
    const double size = std::fabs(on_circle(f, t));
    if (size > farthest) {
      farthest = size;
      opposite = t;
    }
  }
  const double middle = opposite + 3.14159265358979323846;
  const double cm = std::cos(middle), sm = std::sin(middle), scale = 1 / largest;
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
