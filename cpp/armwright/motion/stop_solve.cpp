#include "armwright/motion/stop_solve.hpp"

#include <cmath>

#include "armwright/dynamics/factor.hpp"

namespace armwright {

namespace {

struct Problem {
  std::size_t n;
  const double *M, *bias;
  const StopAxis* axes;
  const AxisLaw* laws;
  double slack;

  AxisPush push(std::size_t k, AxisMode mode, double x) const {
    return axis_push(axes[k], mode == AxisMode::above ? laws[k].above : laws[k].below, x);
  }
  double needed(std::size_t k, const double* x) const {
    double sum = bias[k];
    for (std::size_t j = 0; j < n; ++j) sum += M[k * n + j] * x[j];
    return sum;
  }
};

// Residuals of the free axes and how large their terms are.
double residuals(const Problem& p, const std::size_t* free, std::size_t count, const AxisMode* mode, const double* x, double* r, double* slope) {
  double worst = 0;
  for (std::size_t a = 0; a < count; ++a) {
    const std::size_t k = free[a];
    const AxisPush push = p.push(k, mode[k], x[k]);
    const double needed = p.needed(k, x);
    r[a] = needed - push.torque;
    slope[a] = push.slope;
    const double size = std::fabs(needed) + std::fabs(push.torque) + std::fabs(p.bias[k]) + (p.M[k * p.n + k] - push.slope) * std::fabs(x[k]);
    worst = std::fmax(worst, std::fabs(r[a]) / (size + 1e-300));
  }
  return worst;
}

// Where along a step the slope of the convex function passes through 0: halved, since it bends.
double step_share(const Problem& p, const std::size_t* free, std::size_t count, const AxisMode* mode, const double* x, const double* step) {
  double low = 0, high = 1;
  std::array<double, max_joints> at, r, slope;
  const auto downhill = [&](double share) {
    for (std::size_t j = 0; j < p.n; ++j) at[j] = x[j];
    for (std::size_t a = 0; a < count; ++a) at[free[a]] += share * step[a];
    residuals(p, free, count, mode, at.data(), r.data(), slope.data());
    double sum = 0;
    for (std::size_t a = 0; a < count; ++a) sum += r[a] * step[a];
    return sum <= 0;
  };
  if (downhill(1)) return 1;
  for (int i = 0; i < 30; ++i) (downhill(0.5 * (low + high)) ? low : high) = 0.5 * (low + high);
  return high;
}

// Newton on the axes that are not pinned. -1, or an axis without inertia.
int solve_free(const Problem& p, const AxisMode* mode, double* x) {
  std::array<std::size_t, max_joints> free;
  std::size_t count = 0;
  for (std::size_t k = 0; k < p.n; ++k) {
    if (mode[k] == AxisMode::pinned) x[k] = p.laws[k].at;
    else free[count++] = k;
  }
  std::array<double, max_joints> r, slope, diagonal;
  std::array<double, max_joints * max_joints> A;
  for (int iteration = 0; count > 0 && iteration < 60; ++iteration) {
    if (residuals(p, free.data(), count, mode, x, r.data(), slope.data()) < 1e-13 && iteration > 0) break;
    for (std::size_t a = 0; a < count; ++a) {
      for (std::size_t b = 0; b <= a; ++b) A[a * count + b] = p.M[free[a] * p.n + free[b]];
      diagonal[a] = A[a * count + a] -= slope[a];
      r[a] = -r[a];
    }
    int lost = -1;
    solve_symmetric(count, A.data(), r.data(), [&](std::size_t a, double pivot) {
      const bool bad = !(pivot > lost_pivot * diagonal[a]);
      if (bad) lost = static_cast<int>(free[a]);
      return bad;
    });
    if (lost >= 0) return lost;
    const double share = iteration < 6 ? 1 : step_share(p, free.data(), count, mode, x, r.data());
    for (std::size_t a = 0; a < count; ++a) x[free[a]] += share * r[a];
  }
  return -1;
}

// One round of setting modes right; all that are wrong, or only the worst. Whether any was.
bool correct_modes(const Problem& p, const double* x, const double* held, bool all, AxisMode* mode) {
  double worst = 0;
  std::size_t which = p.n;
  AxisMode better = AxisMode::pinned;
  for (std::size_t k = 0; k < p.n; ++k) {
    const AxisLaw& law = p.laws[k];
    if (!law.kink) continue;
    AxisMode right = mode[k];
    double wrong = 0;
    if (mode[k] == AxisMode::pinned) {
      if (held[k] > law.greatest + p.slack) right = AxisMode::below, wrong = (held[k] - law.greatest) / p.M[k * p.n + k];
      if (held[k] < law.least - p.slack) right = AxisMode::above, wrong = (law.least - held[k]) / p.M[k * p.n + k];
    } else if (mode[k] == AxisMode::above ? x[k] < law.at : x[k] > law.at) {
      right = AxisMode::pinned;
      wrong = std::fabs(x[k] - law.at);
    }
    if (right == mode[k]) continue;
    if (all) mode[k] = right;
    if (wrong >= worst) worst = wrong, which = k, better = right;
  }
  if (which < p.n && !all) mode[which] = better;
  return which < p.n;
}

}  // namespace

int accelerations(std::size_t n, const double* M, const double* bias, const StopAxis* axes, const AxisLaw* laws, double slack,
                  double* x, AxisMode* mode, double* held) {
  const Problem p{n, M, bias, axes, laws, slack};
  for (std::size_t k = 0; k < n; ++k)
    if (!laws[k].kink) mode[k] = AxisMode::below;
  for (int round = 0;; ++round) {
    const int lost = solve_free(p, mode, x);
    if (lost >= 0) return lost;
    for (std::size_t k = 0; k < n; ++k) held[k] = p.needed(k, x);
    // All at once is fastest; if that goes round in circles, one at a time, and in the end what is nearest stands.
    if (round > 60 || !correct_modes(p, x, held, round < 8, mode)) return -1;
  }
}

}  // namespace armwright
