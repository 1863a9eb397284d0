#pragma once

#include <array>
#include <cmath>
#include <cstddef>

namespace armwright {

/// A step of the embedded Runge–Kutta pair of orders 5 and 4 of J. Dormand and P. Prince (J. Comp. Appl. Math. 6, 1980),
/// with the continuous extension of order 4 (E. Hairer, S. Nørsett, G. Wanner, Solving Ordinary Differential Equations
/// I, section II.6). The last slope of a step is the first of the next.
template <std::size_t Most>
struct DormandPrince {
  using State = std::array<double, Most>;
  std::size_t size = 0;
  State start{}, end{};
  std::array<State, 7> slope{};
  double step = 0;

  /// From `start`, whose slope stands in slope[0]. `derivative(state, slope)` may say no by returning false.
  template <class Derivative>
  bool advance(double h, Derivative derivative) {
    static constexpr double a[6][6] = {{1.0 / 5},
                                       {3.0 / 40, 9.0 / 40},
                                       {44.0 / 45, -56.0 / 15, 32.0 / 9},
                                       {19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729},
                                       {9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656},
                                       {35.0 / 384, 0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84}};
    step = h;
    for (std::size_t stage = 0; stage < 6; ++stage) {
      for (std::size_t i = 0; i < size; ++i) {
        double sum = 0;
        for (std::size_t j = 0; j <= stage; ++j) sum += a[stage][j] * slope[j][i];
        end[i] = start[i] + h * sum;
      }
      if (!derivative(end, slope[stage + 1])) return false;
    }
    return true;
  }

  /// Estimated error over what is tolerated, root of the mean square; up to 1 is well.
  double error(double tolerance) const {
    static constexpr double e[7] = {71.0 / 57600, 0, -71.0 / 16695, 71.0 / 1920, -17253.0 / 339200, 22.0 / 525, -1.0 / 40};
    double sum = 0;
    for (std::size_t i = 0; i < size; ++i) {
      double part = 0;
      for (std::size_t j = 0; j < 7; ++j) part += e[j] * slope[j][i];
      const double scaled = step * part / (tolerance * (1 + std::fmax(std::fabs(start[i]), std::fabs(end[i]))));
      sum += scaled * scaled;
    }
    return std::sqrt(sum / static_cast<double>(size));
  }

  /// One component, or all, at a share 0 to 1 of the step.
  double at(double share, std::size_t i) const {
    static constexpr double d[7] = {-12715105075.0 / 11282082432.0, 0, 87487479700.0 / 32700410799.0, -10690763975.0 / 1880347072.0,
                                    701980252875.0 / 199316789632.0, -1453857185.0 / 822651844.0, 69997945.0 / 29380423.0};
    const double rise = end[i] - start[i], bend = step * slope[0][i] - rise;
    double fifth = 0;
    for (std::size_t j = 0; j < 7; ++j) fifth += d[j] * slope[j][i];
    const double rest = 1 - share;
    return start[i] + share * (rise + rest * (bend + share * (rise - step * slope[6][i] - bend + rest * step * fifth)));
  }
  State at(double share) const {
    State state{};
    for (std::size_t i = 0; i < size; ++i) state[i] = at(share, i);
    return state;
  }
};

}  // namespace armwright
