#pragma once

#include <cmath>

namespace armwright {

/// Integral of the square of what goes straight from a to b during `time`: time (a² + ab + b²)/3, exact.
inline double square_integral(double a, double b, double time) { return time * (a * a + a * b + b * b) / 3; }

/// Integral of the product of two that go straight, a to b and c to d: exact.
inline double product_integral(double a, double b, double c, double d, double time) { return time * (2 * (a * c + b * d) + a * d + b * c) / 6; }

/// Integral of the magnitude of what goes straight from a to b: exact, a change of sign between them included.
inline double magnitude_integral(double a, double b, double time) {
  if (a * b >= 0) return time * std::fabs(a + b) / 2;
  return time * (a * a + b * b) / (2 * std::fabs(a - b));
}

/// Root of a mean square from its integral; 0 for no time.
inline double root_mean_square(double integral, double time) { return time > 0 ? std::sqrt(integral / time) : 0; }

}  // namespace armwright
