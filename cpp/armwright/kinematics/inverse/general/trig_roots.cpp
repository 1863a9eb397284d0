#include "armwright/kinematics/inverse/general/trig_roots.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>

namespace armwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double arc_width = pi / 17;
constexpr double noise_share = 1e-12;   // of the largest sample: rounding of the samples and of the conversion
constexpr double check_weight = 5;        // two checks do not meet the worst of the noise
constexpr double near_miss = 0.03;      // rad: complex roots nearer to the real axis than this are handed on too
constexpr int deepest = 5;              // halvings of an arc: down to 6 mrad

}  // namespace

TrigRootFinder::TrigRootFinder() {
  constexpr std::size_t n = degree + 1;
  for (std::size_t m = 0; m <= trig_degree; ++m) {
    const double weight = (m == 0 ? 1.0 : 2.0) / static_cast<double>(trig_nodes);
    for (std::size_t k = 0; k < trig_nodes; ++k) {
      const double angle = 2 * pi * static_cast<double>((m * k) % trig_nodes) / static_cast<double>(trig_nodes);
      cosines_[m][k] = weight * std::cos(angle);
      sines_[m][k] = weight * std::sin(angle);
    }
  }
  // Interpolation at Chebyshev points of the arc, then the change of basis.
  Eigen::MatrixXd basis(n, n), values(n, trig_nodes);
  for (int half = 0; half < 2; ++half) {
    for (std::size_t i = 0; i < n; ++i) {
      const double x = 0.5 - 0.5 * std::cos(pi * (static_cast<double>(i) + 0.5) / static_cast<double>(n));
      double choose = 1;
      for (std::size_t j = 0; j < n; ++j) {
        basis(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) =
            choose * std::pow(x, static_cast<double>(j)) * std::pow(1 - x, static_cast<double>(degree - j));
        choose *= static_cast<double>(degree - j) / static_cast<double>(j + 1);
      }
      const double angle = (half + x) * arc_width;
      for (std::size_t k = 0; k < trig_nodes; ++k) {
        const double away = angle - 2 * pi * static_cast<double>(k) / static_cast<double>(trig_nodes);
        double sum = 1;
        for (std::size_t m = 1; m <= trig_degree; ++m) sum += 2 * std::cos(static_cast<double>(m) * away);
        values(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(k)) = sum / static_cast<double>(trig_nodes);
      }
    }
    const Eigen::MatrixXd table = basis.fullPivLu().solve(values);
    for (std::size_t k = 0; k < trig_nodes; ++k) {
      for (std::size_t j = 0; j < n; ++j) {
        to_bernstein_[static_cast<std::size_t>(half)][k][j] = table(static_cast<Eigen::Index>(j), static_cast<Eigen::Index>(k));
      }
    }
  }
}

TrigRootFinder::Spectrum TrigRootFinder::spectrum(const TrigSamples& samples) const {
  Spectrum f;
  for (std::size_t m = 0; m <= trig_degree; ++m) {
    double c = 0, s = 0;
    for (std::size_t k = 0; k < trig_nodes; ++k) {
      c += cosines_[m][k] * samples.node[k];
      s += sines_[m][k] * samples.node[k];
    }
    f.cosine[m] = c;
    f.sine[m] = s;
  }
  return f;
}

TrigRootFinder::Local TrigRootFinder::at(const Spectrum& f, double angle) {
  const double c1 = std::cos(angle), s1 = std::sin(angle);
  double c = c1, s = s1;
  Local local{f.cosine[0], 0, 0};
  for (std::size_t m = 1; m <= trig_degree; ++m) {
    const double k = static_cast<double>(m);
    const double value = f.cosine[m] * c + f.sine[m] * s;
    local.value += value;
    local.slope += k * (f.sine[m] * c - f.cosine[m] * s);
    local.bend -= k * k * value;
    const double next = c * c1 - s * s1;
    s = s * c1 + c * s1;
    c = next;
  }
  return local;
}

// Newton, kept in the bracket by halving.
double TrigRootFinder::simple_root(const Spectrum& f, double low, double high, double at_low) {
  double x = 0.5 * (low + high);
  for (int step = 0; step < 40; ++step) {
    const Local here = at(f, x);
    ((here.value < 0) == (at_low < 0) ? low : high) = x;
    double next = x - here.value / here.slope;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::fabs(next - x) < 1e-9) return next;
    x = next;
  }
  return x;
}

// A short arc on which the sign pattern stays undecided: two roots close together, or none, with a complex pair near.
void TrigRootFinder::near_double(const Spectrum& f, double low, double high, double noise, TrigRoots& out) {
  const double width = high - low;
  double x = 0.5 * (low + high);
  Local here = at(f, x);
  for (int step = 0; step < 6; ++step) {  // to the extremum
    double way = here.bend != 0 ? -here.slope / here.bend : 0;
    way = std::fmax(-width, std::fmin(width, way));
    x += way;
    here = at(f, x);
    if (std::fabs(way) < 1e-9) break;
  }
  if (x < low - width || x > high + width || here.bend == 0) {
    out.add(0.5 * (low + high), RootKind::touching);
    return;
  }
  const double square = -2 * here.value / here.bend;
  if (square > 0) {
    const double away = std::sqrt(square);
    if (away > 2 * width) {
      out.add(0.5 * (low + high), RootKind::touching);
      return;
    }
    out.add(x - away, RootKind::touching);
    out.add(x + away, RootKind::touching);
  } else if (std::sqrt(-square) < near_miss || std::fabs(here.value) < noise) {
    out.add(x, RootKind::touching);
  }
}

void TrigRootFinder::search_arc(const Spectrum& f, const Bernstein& arc, double low, double noise, TrigRoots& out) {
  struct Piece {
    Bernstein b;
    double low, width;
    int depth;
  };
  std::array<Piece, deepest + 2> stack;
  std::size_t top = 0;
  stack[top++] = {arc, low, arc_width, 0};
  while (top > 0) {
    Piece piece = stack[--top];
    const Bernstein& b = piece.b;
    double least = b[0], greatest = b[0];
    int changes = 0;
    for (std::size_t j = 1; j <= degree; ++j) {
      least = std::fmin(least, b[j]);
      greatest = std::fmax(greatest, b[j]);
      if ((b[j] < 0) != (b[j - 1] < 0)) ++changes;
    }
    if (least > noise || greatest < -noise) continue;
    const bool ends_clear = std::fabs(b[0]) > noise && std::fabs(b[degree]) > noise;
    if (changes == 1 && ends_clear) {
      out.add(simple_root(f, piece.low, piece.low + piece.width, b[0]), RootKind::crossing);
      continue;
    }
    if (piece.depth == deepest) {
      if (greatest < noise && least > -noise) out.drowned = true;
      near_double(f, piece.low, piece.low + piece.width, noise, out);
      continue;
    }
    Piece right{{}, piece.low + 0.5 * piece.width, 0.5 * piece.width, piece.depth + 1};
    Piece left{{}, piece.low, 0.5 * piece.width, piece.depth + 1};
    Bernstein work = b;  // de Casteljau at the middle
    for (std::size_t k = 0; k <= degree; ++k) {
      left.b[k] = work[0];
      right.b[degree - k] = work[degree - k];
      for (std::size_t j = 0; j + k < degree; ++j) work[j] = 0.5 * (work[j] + work[j + 1]);
    }
    stack[top++] = right;
    stack[top++] = left;
  }
}

TrigRoots TrigRootFinder::roots(const TrigSamples& samples, double floor) const {
  TrigRoots out;
  double largest = 0;
  for (double x : samples.node) largest = std::fmax(largest, std::fabs(x));
  if (!(largest > floor) || !std::isfinite(largest)) {
    out.drowned = true;
    return out;
  }
  TrigSamples scaled = samples;
  for (std::size_t k = 0; k < trig_nodes; ++k) scaled.node[k] /= largest;
  const Spectrum f = spectrum(scaled);
  double noise = std::fmax(noise_share, floor / largest);
  for (std::size_t k = 0; k < samples.check.size(); ++k) {
    const double angle = 2 * pi * trig_check_nodes[k] / static_cast<double>(trig_nodes);
    noise = std::fmax(noise, check_weight * std::fabs(at(f, angle).value - samples.check[k] / largest));
  }
  out.noise = noise;
  std::array<double, 2 * trig_nodes> ring;  // so that a rotation is a window
  for (std::size_t k = 0; k < trig_nodes; ++k) ring[k] = ring[k + trig_nodes] = scaled.node[k];
  for (std::size_t start = 0; start < trig_nodes; ++start) {
    for (std::size_t half = 0; half < 2; ++half) {
      Bernstein b{};
      for (std::size_t k = 0; k < trig_nodes; ++k) {
        const double value = ring[start + k];
        for (std::size_t j = 0; j <= degree; ++j) b[j] += value * to_bernstein_[half][k][j];
      }
      search_arc(f, b, static_cast<double>(2 * start + half) * arc_width, noise, out);
    }
  }
  return out;
}

}  // namespace armwright
