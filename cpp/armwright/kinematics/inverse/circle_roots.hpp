#pragma once

#include <array>

namespace armwright {

/// f(t) = k + c cos t + s sin t + cc cos² t + cs cos t sin t, the general polynomial of second degree on the circle.
struct CirclePolynomial {
  double k, c, s, cc, cs;
};

struct CircleRoots {
  int count = 0;
  bool all = false;  ///< f vanishes everywhere, within rounding
  std::array<double, 8> angle{};  ///< rad
};

/// All real roots, double ones too. Where f touches zero, or misses it by less than `touching` of its largest
/// coefficient, the place of the nearest approach is given. A double root comes once or twice.
CircleRoots roots_on_circle(const CirclePolynomial& f, double touching = 1e-9);

}  // namespace armwright
